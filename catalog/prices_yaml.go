package catalog

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// pricesYAML reads the entries of a YAML list.
func pricesYAML(r io.Reader, name string) ([]priceEntry, InputErrors) {
	w := priceWalker{file: name}
	var doc yaml.Node
	err := yaml.NewDecoder(r).Decode(&doc)
	switch {
	case err == io.EOF || (err == nil && len(doc.Content) == 0):
		return nil, InputErrors{{name, 1, 1, "the list is empty"}}
	case err != nil:
		line, msg := yamlMistake(err)
		return nil, InputErrors{{name, line, 1, msg}}
	}
	w.mapping(doc.Content[0], "the list", w.top)
	return w.entries, w.errs
}

// yamlMistake parts the parser's "yaml: line N: what"; line 1 if it names none.
func yamlMistake(err error) (line int, msg string) {
	msg = strings.TrimPrefix(err.Error(), "yaml: ")
	if rest, ok := strings.CutPrefix(msg, "line "); ok {
		digits, what, _ := strings.Cut(rest, ": ")
		if n, e := strconv.Atoi(digits); e == nil && n > 0 {
			return n, what
		}
	}
	return 1, msg
}

// priceWalker gathers entries from the nodes of a YAML list.
type priceWalker struct {
	file    string
	entries []priceEntry
	errs    InputErrors
}

func (w *priceWalker) fail(n *yaml.Node, format string, args ...any) {
	w.errs = append(w.errs, &InputError{w.file, max(1, n.Line), max(1, n.Column), fmt.Sprintf(format, args...)})
}

// mapping calls f for each pair of a mapping; anything else is a mistake.
func (w *priceWalker) mapping(n *yaml.Node, what string, f func(key, value *yaml.Node)) {
	if n.Kind != yaml.MappingNode {
		w.fail(n, "%s must be a mapping (name: value)", what)
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		f(n.Content[i], n.Content[i+1])
	}
}

// entry notes one scalar.
func (w *priceWalker) entry(item, of, grade string, v *yaml.Node) {
	if v.Kind != yaml.ScalarNode {
		w.fail(v, "%s must be a single value", strings.TrimSpace(item+" "+of))
		return
	}
	w.entries = append(w.entries, priceEntry{item: item, of: of, grade: grade, value: v.Value, line: v.Line, column: v.Column})
}

// top takes in one entry of the document.
func (w *priceWalker) top(key, v *yaml.Node) {
	switch key.Value {
	case "name", "currency", "cut", "base":
		w.entry(key.Value, "", "", v)
	case "per_kg", "sections":
		w.mapping(v, key.Value, func(of, price *yaml.Node) { w.entry("per_kg", of.Value, "", price) })
	case "connections":
		w.mapping(v, key.Value, func(kind, price *yaml.Node) { w.entry("connection", kind.Value, "", price) })
	case "grades":
		w.mapping(v, key.Value, func(family, prices *yaml.Node) {
			w.mapping(prices, "grades of "+family.Value, func(grade, price *yaml.Node) {
				w.entry("per_kg", family.Value, grade.Value, price)
			})
		})
	default:
		w.fail(key, "unknown entry %q; entries: name, currency, per_kg, grades, sections, cut, connections, base", key.Value)
	}
}
