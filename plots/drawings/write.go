package drawings

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"leanbay/model/shed"
)

// WriteAll writes every drawing of a model into dir, which must exist: plan.svg, walls.svg, roof.svg, one frame-N.svg for each
// distinct frame (N its first frame line), restraints.svg and restraints.csv, candidates-WALL.svg for
// the south and north wall, the west and east gable; with against, the design to compare with, changes.svg. It returns the names of the files, in the
// order in which they are to be read. Each file is written whole or not at all.
func WriteAll(dir string, m, against *shed.Model) ([]string, error) {
	type file struct {
		name string
		data []byte
	}
	files := []file{{"plan.svg", Plan(m)}, {"walls.svg", Walls(m)}, {"roof.svg", Roof(m)}}
	for _, set := range DistinctFrames(m) {
		files = append(files, file{fmt.Sprintf("frame-%d.svg", set[0]+1), Frame(m, set[0])})
	}
	var table bytes.Buffer
	if err := RestraintsCSV(&table, m); err != nil {
		return nil, fmt.Errorf("restraint table: %w", err)
	}
	files = append(files, file{"restraints.svg", Restraints(m)}, file{"restraints.csv", table.Bytes()})
	for side, name := range []string{"south", "north", "west", "east"} {
		files = append(files, file{"candidates-" + name + ".svg", Candidates(m.Shed, side)})
	}
	if against != nil {
		files = append(files, file{"changes.svg", Changes(against, m)})
	}
	var names []string
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		if err := os.WriteFile(path+".part", f.data, 0o666); err != nil {
			return names, err
		}
		if err := os.Rename(path+".part", path); err != nil {
			return names, err
		}
		names = append(names, f.name)
	}
	return names, nil
}
