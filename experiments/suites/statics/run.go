package statics

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"leanbay/experiments/frames"
)

// Case is a structure with known answers.
type Case struct {
	Name string // "cantilever/tip load"
	make func() (*form, []Figure)
}

// Cases lists the suite in its order: linear, one-way members, mechanisms, second order, buckling, sheds.
func Cases() []Case {
	return slices.Concat(beamCases(), shearCases(), jointCases(), portalCases(), barCases(), spaceCases(), rodCases(), mechanismCases(),
		beamColumnCases(), commentaryCases(), columnCases(), frameStability(), beyondCases(), combinedCases(), denseCases())
}

// stations of every diagram in the suite: an odd number, so that the middle is one.
const stations = 41

// Run analyses the case and compares. A case that cannot be analysed gives rows that do not agree, with the problem.
func (c *Case) Run() []Row {
	f, figures := c.make()
	f.ID = c.Name
	a, err := analyse(f)
	rows := make([]Row, 0, len(figures))
	for i := range figures {
		if err != nil {
			rows = append(rows, Row{Case: c.Name, Figure: figures[i], Problem: err.Error()})
			continue
		}
		rows = append(rows, figures[i].judge(c.Name, a))
	}
	return rows
}

// JSON writes the case's structure in the neutral form, as it is analysed.
func (c *Case) JSON() ([]byte, error) {
	f, _ := c.make()
	f.ID = c.Name
	return json.MarshalIndent(f, "", " ")
}

// analyse takes a form through the reader to the answer.
func analyse(f *form) (*frames.Answer, error) {
	file, err := formFile(f)
	if err != nil {
		return nil, err
	}
	return frames.Analyse(file, frames.Options{Modes: 4, Stations: stations})
}

// formFile writes a form as JSON and reads it again.
func formFile(f *form) (*frames.File, error) {
	text, err := json.Marshal(f)
	if err != nil {
		return nil, err
	}
	return frames.Read(f.ID, text)
}

// Select returns the cases whose names are, or begin with, one of names; all for none. A name that fits nothing is an
// error.
func Select(names []string) ([]Case, error) {
	all := Cases()
	if len(names) == 0 {
		return all, nil
	}
	used := make([]bool, len(names))
	chosen := slices.DeleteFunc(all, func(c Case) bool {
		fits := false
		for i, n := range names {
			if strings.HasPrefix(c.Name, n) {
				used[i], fits = true, true
			}
		}
		return !fits
	})
	if i := slices.Index(used, false); i >= 0 {
		return nil, fmt.Errorf("no case is called %q or begins with it; see 'leanbay verify --list'", names[i])
	}
	return chosen, nil
}
