// Package jsontree parses JSON into a tree whose values know their place in the file, so that a reader can name line and
// column of every mistake.
//
// In: bytes. Out: a tree of values, or the one place where the text stops being JSON. It knows no file form.
package jsontree

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"sort"
	"unicode/utf8"
)

// Kind says what a value is, in words for messages.
type Kind string

// The kinds of JSON values.
const (
	Text    Kind = "text"
	Number  Kind = "number"
	Boolean Kind = "boolean"
	Null    Kind = "null"
	List    Kind = "list"
	Object  Kind = "object"
)

// Pos is a place in a file; lines and columns (in characters) start at 1.
type Pos struct{ Line, Column int }

// Value is one JSON value and its place.
type Value struct {
	Kind Kind
	Pos
	Literal string  // of a text, its characters; of a number, as written
	True    bool    // of a boolean
	Items   []Value // of a list
	Fields  []Field // of an object, in the order of the file; doubles are kept
}

// Field is one key of an object.
type Field struct {
	Key   string
	Pos   // of the key
	Value Value
}

// SyntaxError is the place where the text stops being JSON, and why.
type SyntaxError struct {
	Pos
	Message string
}

func (e *SyntaxError) Error() string { return fmt.Sprintf("%d:%d: %s", e.Line, e.Column, e.Message) }

// maxDepth bounds nesting: deeper is no file of ours, and would only use up the stack.
const maxDepth = 40

// Parse reads one JSON value and nothing after it. A byte order mark is passed over. The error is a *SyntaxError.
func Parse(data []byte) (Value, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	p := &parser{dec: json.NewDecoder(bytes.NewReader(data)), data: data, lastColumn: 1}
	p.dec.UseNumber()
	for i, b := range data {
		if b == '\n' {
			p.ends = append(p.ends, i)
		}
	}
	var all json.RawMessage
	if err := json.Unmarshal(data, &all); err != nil {
		return Value{}, p.syntax(err)
	}
	return p.value(0)
}

type parser struct {
	dec  *json.Decoder
	data []byte
	ends []int // offsets of line ends

	last, lastColumn int // the last place asked for
}

// pos turns an offset into a place. Offsets that grow are counted on from the last, so that a file on one long line is
// read in linear time.
func (p *parser) pos(offset int) Pos {
	line := sort.SearchInts(p.ends, offset)
	start, column := 0, 1
	if line > 0 {
		start = p.ends[line-1] + 1
	}
	if p.last >= start && p.last <= offset {
		start, column = p.last, p.lastColumn
	}
	column += utf8.RuneCount(p.data[start:offset])
	p.last, p.lastColumn = offset, column
	return Pos{line + 1, column}
}

func (p *parser) syntax(err error) error {
	var s *json.SyntaxError
	if !errors.As(err, &s) {
		return &SyntaxError{p.pos(len(p.data)), "not JSON: " + err.Error()}
	}
	if int(s.Offset) >= len(p.data) && len(bytes.TrimSpace(p.data)) == 0 {
		return &SyntaxError{Pos{1, 1}, "the file is empty"}
	}
	if s.Error() == "unexpected end of JSON input" {
		return &SyntaxError{p.pos(len(p.data)), "the file ends too soon: a bracket or a quote is not closed"}
	}
	at := max(int(s.Offset)-1, 0)
	hint := ""
	if at < len(p.data) && bytes.IndexByte([]byte("NIni+"), p.data[at]) >= 0 {
		hint = "; write a plain number: JSON has no NaN, no Infinity and no leading +"
	}
	return &SyntaxError{p.pos(at), "not JSON: " + s.Error() + hint}
}

// next reads a token and its place.
func (p *parser) next() (json.Token, Pos, error) {
	from := int(p.dec.InputOffset())
	t, err := p.dec.Token()
	if err != nil {
		if errors.Is(err, io.EOF) {
			err = io.ErrUnexpectedEOF
		}
		return nil, Pos{}, &SyntaxError{p.pos(from), "not JSON: " + err.Error()}
	}
	for from < len(p.data) && bytes.IndexByte([]byte(" \t\r\n,:"), p.data[from]) >= 0 {
		from++
	}
	return t, p.pos(from), nil
}

func (p *parser) value(depth int) (Value, error) {
	t, pos, err := p.next()
	if err != nil {
		return Value{}, err
	}
	if depth > maxDepth {
		return Value{}, &SyntaxError{pos, "lists and objects are nested too deep"}
	}
	v := Value{Pos: pos}
	switch t := t.(type) {
	case json.Delim:
		if t == '[' {
			err = p.list(&v, depth)
		} else {
			err = p.object(&v, depth)
		}
	case string:
		v.Kind, v.Literal = Text, t
	case json.Number:
		v.Kind, v.Literal = Number, t.String()
	case bool:
		v.Kind, v.True = Boolean, t
	default:
		v.Kind = Null
	}
	return v, err
}

func (p *parser) list(v *Value, depth int) error {
	v.Kind = List
	for p.dec.More() {
		item, err := p.value(depth + 1)
		if err != nil {
			return err
		}
		v.Items = append(v.Items, item)
	}
	_, _, err := p.next()
	return err
}

func (p *parser) object(v *Value, depth int) error {
	v.Kind = Object
	for p.dec.More() {
		key, pos, err := p.next()
		if err != nil {
			return err
		}
		item, err := p.value(depth + 1)
		if err != nil {
			return err
		}
		v.Fields = append(v.Fields, Field{Key: fmt.Sprint(key), Pos: pos, Value: item})
	}
	_, _, err := p.next()
	return err
}
