package frames

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"leanbay/experiments/jsontree"
	"leanbay/solver"
)

// Schema is the version of the form that Read knows.
const Schema = "frame-1"

// Analysis is what a load case asks for.
type Analysis string

// The kinds of analysis of the neutral form.
const (
	Linear                 Analysis = "linear"
	SecondOrder            Analysis = "second_order"
	TensionOnly            Analysis = "tension_only"
	TensionOnlySecondOrder Analysis = "tension_only_second_order"
	Buckling               Analysis = "buckling"
	Mechanism              Analysis = "mechanism"
)

var analyses = []string{string(Linear), string(SecondOrder), string(TensionOnly), string(TensionOnlySecondOrder), string(Buckling), string(Mechanism)}

// File is a frame that was read and found consistent.
type File struct {
	ID, Title string
	Structure *solver.Structure // Cases[i] and Combinations[i] are the load case that Asked[i] belongs to
	Asked     []Analysis
	Warnings  []string // file:line:column: what was ignored or supposed
}

// Mistake is one mistake in a file: where, what is wrong, what would be right.
type Mistake struct {
	File string
	jsontree.Pos
	Message string
}

// Error gives file:line:column: message.
func (m *Mistake) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", m.File, m.Line, m.Column, m.Message)
}

// Mistakes are all the mistakes of a file, sorted by place.
type Mistakes []*Mistake

// Error gives one mistake a line.
func (ms Mistakes) Error() string {
	lines := make([]string, len(ms))
	for i, m := range ms {
		lines[i] = m.Error()
	}
	return strings.Join(lines, "\n")
}

// Read reads the neutral form; name is the file's, for messages. The error is Mistakes: all that were found.
func Read(name string, data []byte) (*File, error) {
	r := &reader{name: name, file: &File{Structure: &solver.Structure{}}}
	tree, err := jsontree.Parse(data)
	var syntax *jsontree.SyntaxError
	if errors.As(err, &syntax) {
		return nil, Mistakes{{name, syntax.Pos, syntax.Message}}
	}
	r.top(&tree)
	if len(r.mistakes) > 0 {
		slices.SortStableFunc(r.mistakes, func(a, b *Mistake) int {
			return cmp.Or(a.Line-b.Line, a.Column-b.Column, strings.Compare(a.Message, b.Message))
		})
		return nil, r.mistakes
	}
	return r.file, nil
}
