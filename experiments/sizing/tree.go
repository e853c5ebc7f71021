package sizing

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"sort"
)

// value is one JSON value with its line, so that every complaint can name a place.
type value struct {
	line   int
	scalar any // string, json.Number, bool or nil; unused for lists and objects
	list   []value
	keys   []string // of an object, in order
	fields map[string]value
	kind   string // "text", "number", "boolean", "null", "list", "object"
}

// maxDepth bounds nesting: deeper is no file of this form, and would only use up the stack.
const maxDepth = 40

// parseTree reads one JSON value and nothing after it.
func parseTree(data []byte) (value, error) {
	p := &treeParser{dec: json.NewDecoder(bytes.NewReader(data)), data: data}
	p.dec.UseNumber()
	v, err := p.value(0)
	if err != nil {
		return value{}, err
	}
	if _, err := p.dec.Token(); !errors.Is(err, io.EOF) {
		return value{}, &place{p.line(), "text after the end of the object; remove it"}
	}
	return v, nil
}

// place is a complaint with its line.
type place struct {
	line int
	text string
}

func (p *place) Error() string { return fmt.Sprintf("%d: %s", p.line, p.text) }

type treeParser struct {
	dec   *json.Decoder
	data  []byte
	lines []int // offsets of line ends, found on first use
}

// line returns the line where the last token ended.
func (p *treeParser) line() int { return p.lineAt(p.dec.InputOffset()) }

func (p *treeParser) lineAt(offset int64) int {
	if p.lines == nil {
		p.lines = []int{}
		for i, b := range p.data {
			if b == '\n' {
				p.lines = append(p.lines, i)
			}
		}
	}
	return 1 + sort.SearchInts(p.lines, int(offset))
}

func (p *treeParser) fail(err error) error {
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		return &place{p.lineAt(max(0, syntax.Offset-1)), "not JSON: " + syntax.Error()}
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return &place{p.line(), "the file ends too soon: a bracket or a quote is not closed"}
	}
	return &place{p.line(), "not JSON: " + err.Error()}
}

func (p *treeParser) value(depth int) (value, error) {
	if depth > maxDepth {
		return value{}, &place{p.line(), "lists and objects are nested too deep"}
	}
	t, err := p.dec.Token()
	if err != nil {
		return value{}, p.fail(err)
	}
	v := value{line: p.line(), scalar: t}
	switch t := t.(type) {
	case json.Delim:
		if t == '[' {
			return p.list(v, depth)
		}
		return p.object(v, depth)
	case string:
		v.kind = "text"
	case json.Number:
		v.kind = "number"
	case bool:
		v.kind = "boolean"
	default:
		v.kind = "null"
	}
	return v, nil
}

func (p *treeParser) list(v value, depth int) (value, error) {
	v.kind = "list"
	for p.dec.More() {
		item, err := p.value(depth + 1)
		if err != nil {
			return v, err
		}
		v.list = append(v.list, item)
	}
	_, err := p.dec.Token()
	if err != nil {
		return v, p.fail(err)
	}
	return v, nil
}

func (p *treeParser) object(v value, depth int) (value, error) {
	v.kind, v.fields = "object", map[string]value{}
	for p.dec.More() {
		t, err := p.dec.Token()
		if err != nil {
			return v, p.fail(err)
		}
		key, line := t.(string), p.line()
		if _, ok := v.fields[key]; ok {
			return v, &place{line, fmt.Sprintf("%q is given twice; keep one", key)}
		}
		item, err := p.value(depth + 1)
		if err != nil {
			return v, err
		}
		v.keys = append(v.keys, key)
		v.fields[key] = item
	}
	_, err := p.dec.Token()
	if err != nil {
		return v, p.fail(err)
	}
	return v, nil
}
