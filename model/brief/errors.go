package brief

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Pos is a place in the file; lines and columns start at 1. The zero Pos is no place.
type Pos struct{ Line, Column int }

// Error is one mistake in a brief: where, what is wrong, what would be right.
type Error struct {
	File string
	Pos
	Message string
}

// Error gives file:line:column: message.
func (e *Error) Error() string {
	if e.Line == 0 {
		return fmt.Sprintf("%s: %s", e.File, e.Message)
	}
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Column, e.Message)
}

// Errors are all the mistakes of a brief, sorted by place.
type Errors []*Error

// Error gives one mistake a line.
func (e Errors) Error() string {
	lines := make([]string, len(e))
	for i, one := range e {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// sort orders by file, the brief's own first, then by line, column and message.
func (e Errors) sort(own string) {
	rank := func(x *Error) int {
		if x.File == own {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(e, func(a, b *Error) int {
		return cmp.Or(rank(a)-rank(b), strings.Compare(a.File, b.File), a.Line-b.Line, a.Column-b.Column,
			strings.Compare(a.Message, b.Message))
	})
}

// Where returns the place of the value at path, such as "openings[2].sill", or of the nearest value around it that the
// file states; the zero Pos if there is none.
func (b *Brief) Where(path string) Pos {
	for p, ok := path, true; ok; p, ok = outer(p) {
		if at, stated := b.pos[p]; stated {
			return at
		}
	}
	return Pos{}
}

// Stated says whether the file itself states the value at path; else it is a default.
func (b *Brief) Stated(path string) bool {
	_, ok := b.pos[path]
	return ok
}

// Fault makes an error at the place of path, for mistakes that only later steps can see.
func (b *Brief) Fault(path, format string, args ...any) *Error {
	return &Error{File: b.file, Pos: b.Where(path), Message: fmt.Sprintf(format, args...)}
}
