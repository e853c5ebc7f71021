package sizing

import (
	"embed"
	"io/fs"
)

//go:embed data/*.json
var data embed.FS

// Shipped returns the names and texts of the problems that come with leanbay, in the order of their names.
func Shipped() (names []string, texts [][]byte) {
	entries, err := fs.ReadDir(data, "data")
	if err != nil {
		panic("sizing: embedded data: " + err.Error())
	}
	for _, e := range entries {
		text, err := data.ReadFile("data/" + e.Name())
		if err != nil {
			panic("sizing: embedded data: " + err.Error())
		}
		names, texts = append(names, e.Name()), append(texts, text)
	}
	return names, texts
}
