package frames

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/experiments/jsontree"
)

// reader collects the structure and the mistakes of one file.
type reader struct {
	name     string
	file     *File
	mistakes Mistakes
	nodes    map[int]int    // id -> index
	doubtful []bool         // nodes with a mistake in them
	members  map[string]int // id -> index
	length   []float64      // of members; 0 for one whose ends are mistaken
}

// maxMistakes ends the list: a file with more is better mended from the top.
const maxMistakes = 100

func (r *reader) mistake(at jsontree.Pos, format string, args ...any) {
	switch {
	case len(r.mistakes) < maxMistakes:
		r.mistakes = append(r.mistakes, &Mistake{r.name, at, fmt.Sprintf(format, args...)})
	case len(r.mistakes) == maxMistakes:
		r.mistakes = append(r.mistakes, &Mistake{r.name, at, "further mistakes are not listed; mend these first"})
	}
}

func (r *reader) warn(at jsontree.Pos, format string, args ...any) {
	m := Mistake{r.name, at, fmt.Sprintf(format, args...)}
	r.file.Warnings = append(r.file.Warnings, m.Error())
}

// field is one key of an object of the form: what it means, and how its value is taken.
type field struct {
	key  string
	help string // what to write, for messages
	need bool
	take func(v *jsontree.Value)
}

// object takes the fields of v. Unknown keys are mistakes, or with lenient only warned of. A null counts as not given.
func (r *reader) object(v *jsontree.Value, what string, lenient bool, fields []field) bool {
	if v.Kind != jsontree.Object {
		r.mistake(v.Pos, "%s is a %s; write an object { … }", what, v.Kind)
		return false
	}
	given := map[string]*jsontree.Field{}
	for i := range v.Fields {
		f := &v.Fields[i]
		if first, twice := given[f.Key]; twice {
			r.mistake(f.Pos, "%s: %q is given twice (first in line %d); keep one", what, f.Key, first.Line)
			continue
		}
		given[f.Key] = f
		if known(fields, f.Key) {
			continue
		}
		if lenient {
			r.warn(f.Pos, "%s: unknown key %q is ignored", what, f.Key)
		} else {
			r.mistake(f.Pos, "%s: unknown key %q; known are %s", what, f.Key, keys(fields))
		}
	}
	for i := range fields {
		f := &fields[i]
		got := given[f.key]
		switch {
		case got != nil && got.Value.Kind != jsontree.Null:
			f.take(&got.Value)
		case f.need && got != nil:
			r.mistake(got.Value.Pos, "%s: %q is null; give %s", what, f.key, f.help)
		case f.need:
			r.mistake(v.Pos, "%s lacks %q: %s", what, f.key, f.help)
		}
	}
	return true
}

func known(fields []field, key string) bool {
	for i := range fields {
		if fields[i].key == key {
			return true
		}
	}
	return false
}

func keys(fields []field) string {
	names := make([]string, len(fields))
	for i := range fields {
		names[i] = fields[i].key
	}
	return strings.Join(names, ", ")
}

// each calls do for the items of a list.
func (r *reader) each(v *jsontree.Value, what string, do func(i int, item *jsontree.Value)) {
	if v.Kind != jsontree.List {
		r.mistake(v.Pos, "%s is a %s; write a list [ … ]", what, v.Kind)
		return
	}
	for i := range v.Items {
		do(i, &v.Items[i])
	}
}

// limit is beyond any quantity of a structure in SI units; larger values are slips, and would overflow.
const limit = 1e30

// number reads a finite number of sensible size; ok is false if it was a mistake.
func (r *reader) number(v *jsontree.Value, what string) (x float64, ok bool) {
	if v.Kind != jsontree.Number {
		r.mistake(v.Pos, "%s is a %s; write a number", what, v.Kind)
		return 0, false
	}
	x, err := strconv.ParseFloat(v.Literal, 64)
	if err != nil || math.Abs(x) > limit {
		r.mistake(v.Pos, "%s is %s: no quantity of a structure is beyond %g", what, v.Literal, limit)
		return 0, false
	}
	return x, true
}

// tiny is the least size of a quantity that must be positive: smaller ones are slips, and would underflow.
const tiny = 1e-30

// quantity takes a number that must be positive, or, with zero, may be 0.
func (r *reader) quantity(what, unit string, zero bool, to *float64) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		x, ok := r.number(v, what)
		switch {
		case !ok:
		case x < 0 || x == 0 && !zero:
			r.mistake(v.Pos, "%s is %s; give a positive number in %s", what, v.Literal, unit)
		case x != 0 && x < tiny:
			r.mistake(v.Pos, "%s is %s: too small to compute with; give a number in %s", what, v.Literal, unit)
		default:
			*to = x
		}
	}
}

func (r *reader) real(what string, to *float64) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		if x, ok := r.number(v, what); ok {
			*to = x
		}
	}
}

func (r *reader) boolean(what string, to *bool) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		if v.Kind != jsontree.Boolean {
			r.mistake(v.Pos, "%s is a %s; write true or false", what, v.Kind)
			return
		}
		*to = v.True
	}
}

// vector takes a list of three numbers.
func (r *reader) vector(what string, to *r3.Vec) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		if v.Kind != jsontree.List || len(v.Items) != 3 {
			r.mistake(v.Pos, "%s must be a list of three numbers [x, y, z]", what)
			return
		}
		for i, p := range []*float64{&to.X, &to.Y, &to.Z} {
			r.real(fmt.Sprintf("%s[%d]", what, i), p)(&v.Items[i])
		}
	}
}

// word takes a text that is one of some words.
func (r *reader) word(what string, words []string, to *string) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		for _, w := range words {
			if v.Kind == jsontree.Text && v.Literal == w {
				*to = w
				return
			}
		}
		got := string(v.Kind)
		if v.Kind == jsontree.Text || v.Kind == jsontree.Number {
			got = strconv.Quote(v.Literal)
		}
		r.mistake(v.Pos, "%s is %s; write one of %s", what, got, strings.Join(words, ", "))
	}
}

// words takes a text or number of any content.
func (r *reader) words(what string, to *string) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		if v.Kind != jsontree.Text && v.Kind != jsontree.Number {
			r.mistake(v.Pos, "%s is a %s; write a text", what, v.Kind)
			return
		}
		*to = v.Literal
	}
}

// label takes an id that may be a text or a number.
func (r *reader) label(what string, to *string) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		if v.Kind != jsontree.Text && v.Kind != jsontree.Number || v.Literal == "" {
			r.mistake(v.Pos, "%s must be a text that is not empty", what)
			return
		}
		*to = v.Literal
	}
}

// whole takes a whole number.
func (r *reader) whole(what string, to *int, ok *bool) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		x, good := r.number(v, what)
		if good && (x != math.Trunc(x) || math.Abs(x) > 1e15) {
			r.mistake(v.Pos, "%s is %s; node ids are whole numbers", what, v.Literal)
			good = false
		}
		if good {
			*to, *ok = int(x), true
		}
	}
}

// nodeRef takes the id of a node of the file; to stays as it is (-1) for a mistake.
func (r *reader) nodeRef(what string, to *int) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		var id int
		var ok bool
		if r.whole(what, &id, &ok)(v); !ok {
			return
		}
		i, there := r.nodes[id]
		if !there {
			r.mistake(v.Pos, "%s: there is no node %d; add it to nodes or name another", what, id)
			return
		}
		*to = i
	}
}

// memberRef takes the id of a member of the file; to stays as it is (-1) for a mistake.
func (r *reader) memberRef(what string, to *int) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		var id string
		if r.label(what, &id)(v); id == "" {
			return
		}
		i, there := r.members[id]
		if !there {
			r.mistake(v.Pos, "%s: there is no member %q; add it to members or name another", what, id)
			return
		}
		*to = i
	}
}
