package brief

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"leanbay/catalog/typo"
)

// scalar reads one word or number.
func (d *decoder) scalar(path string, n *yaml.Node, v reflect.Value, tag reflect.StructTag) {
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		d.fault(n, path, "%s is %s; %s", last(path), describe(n), wanted(v.Type(), tag))
		return
	}
	var wrong string
	switch v.Kind() {
	case reflect.Bool:
		wrong = readBool(n.Value, v)
	case reflect.Int:
		wrong = readInt(n.Value, v, parseBounds(tag.Get("range")))
	case reflect.Float64:
		wrong = readFloat(n.Value, v, parseBounds(tag.Get("range")))
	case reflect.String:
		wrong = readWord(n.Value, v, tag)
	default:
		panic("brief: no reader for " + v.Type().String())
	}
	if wrong != "" {
		d.fault(n, path, "%s: %s", last(path), wrong)
	}
}

// readBool reads true or false; other spellings of yes and no get a hint.
func readBool(text string, v reflect.Value) (wrong string) {
	switch text {
	case "true", "false":
		v.SetBool(text == "true")
		return ""
	case "yes", "Yes", "on", "True", "TRUE":
		return fmt.Sprintf("%q; write true", text)
	case "no", "No", "off", "False", "FALSE":
		return fmt.Sprintf("%q; write false", text)
	}
	return fmt.Sprintf("%q is neither true nor false", text)
}

// readInt reads a whole number within b.
func readInt(text string, v reflect.Value, b bounds) (wrong string) {
	i, err := strconv.ParseInt(text, 10, 32)
	if err != nil {
		return fmt.Sprintf("%q is not a whole number", text)
	}
	if b.outside(float64(i)) {
		return fmt.Sprintf("%d is outside %s to %s", i, show(b.lo), show(b.hi))
	}
	v.SetInt(i)
	return ""
}

// readFloat reads a quantity, a ratio or a plain number, within b in the file's unit.
func readFloat(text string, v reflect.Value, b bounds) (wrong string) {
	q, isQuantity := quantities[v.Type()]
	var x float64
	switch {
	case isQuantity:
		x, wrong = q.parse(text)
	case v.Type() == reflect.TypeFor[Ratio]():
		x, wrong = parseRatio(text)
	default:
		var rest string
		x, rest, wrong = splitNumber(text)
		if wrong == "" && rest != "" {
			wrong = fmt.Sprintf("%q is a plain number without a unit; write %s", text, show(x))
		}
	}
	if wrong != "" {
		return wrong
	}
	shown, unit := x, ""
	if isQuantity {
		shown, unit = q.inBare(x), " "+q.bare()
	}
	if b.outside(shown) {
		return fmt.Sprintf("%s%s is outside %s to %s%s", show(shown), unit, show(b.lo), show(b.hi), unit)
	}
	v.SetFloat(x)
	return ""
}

// readWord reads a word of a vocabulary, or free text where there is none.
func readWord(text string, v reflect.Value, tag reflect.StructTag) (wrong string) {
	known := vocabulary[v.Type()]
	if oneof := tag.Get("oneof"); oneof != "" {
		known = strings.Split(oneof, "|")
	}
	if known != nil && !slices.Contains(known, text) {
		return fmt.Sprintf("%q is not known; %s", text, suggest(text, known))
	}
	if known == nil && tag.Get("need") == "yes" && strings.TrimSpace(text) == "" {
		return "is empty; give a name"
	}
	v.SetString(text)
	return ""
}

// wanted says what a value of type t looks like.
func wanted(t reflect.Type, tag reflect.StructTag) string {
	if q, ok := quantities[t]; ok {
		return fmt.Sprintf("give %s in %s", q.what, q.known())
	}
	if known := vocabulary[t]; known != nil {
		return "use one of " + strings.Join(known, ", ")
	}
	if oneof := tag.Get("oneof"); oneof != "" {
		return "use one of " + strings.ReplaceAll(oneof, "|", ", ")
	}
	switch t.Kind() {
	case reflect.Bool:
		return "write true or false"
	case reflect.Int:
		return "give a whole number"
	case reflect.Float64:
		return "give a number"
	}
	return "give a word or a text"
}

// fields are the keys of a struct type in the order of their declaration.
type fields struct {
	names []string
	index map[string]int
}

// fieldsOf lists the keys of t.
func fieldsOf(t reflect.Type) fields {
	f := fields{index: map[string]int{}}
	for i := range t.NumField() {
		if name := t.Field(i).Tag.Get("yaml"); name != "" {
			f.names = append(f.names, name)
			f.index[name] = i
		}
	}
	return f
}

// suggest names the known word nearest to got, or lists all.
func suggest(got string, known []string) string {
	if best := nearest(got, known); best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	return "known are " + strings.Join(known, ", ")
}

// longWord is the length beyond which a word is no slip of a known one: none is half as long.
const longWord = 60

// nearest returns the known word that got is a slip of, or "".
func nearest(got string, known []string) string {
	best, distance := "", 1+len(got)/2 // further than half the word is no slip of the pen
	if utf8.RuneCountInString(got) > longWord {
		return ""
	}
	for _, k := range known {
		if n := typo.Distance(strings.ToLower(got), strings.ToLower(k)); n < distance {
			best, distance = k, n
		}
	}
	return best
}
