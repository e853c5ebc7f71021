package main

import (
	"errors"
	"fmt"
	"os"

	"leanbay/catalog"
)

// stock returns the embedded sections together with those of the user's files.
func stock(files []string) (*catalog.Library, error) {
	lib := catalog.Default()
	for _, name := range files {
		f, err := os.Open(name)
		if err != nil {
			return nil, badInput(fmt.Errorf("--add: %w", err))
		}
		sections, err := catalog.Load(f, name)
		err = errors.Join(err, f.Close())
		if err == nil {
			lib, err = lib.With(sections)
		}
		if err != nil {
			return nil, badInput(err)
		}
	}
	return lib, nil
}
