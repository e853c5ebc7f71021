package brief

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// maxFile is the largest brief that is read, in bytes; a brief with a hundred frames and doors is under a tenth of it.
const maxFile = 1 << 20

// Lookup says whether the stock has a section in a grade ("" is the section's first). The error is a message without a
// place: what is wrong and what would be right.
type Lookup func(section, grade string) error

// Source is what a brief needs besides its own text. The zero Source reads a brief alone: the files that it names are
// not opened, and its sections are not looked up.
type Source struct {
	// Open returns the content of a file that the brief names.
	Open func(name string) ([]byte, error)
	// Stock returns the lookup of sections, given the content of the brief's own list (nil if it has none).
	Stock func(own []byte) (Lookup, error)
}

// Read reads a brief alone. See Source.Read.
func Read(name string, r io.Reader) (*Brief, error) { return Source{}.Read(name, r) }

// ReadFile reads the brief at path, opening the files that it names beside it.
func (s Source) ReadFile(path string) (*Brief, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the brief: %w", err)
	}
	defer f.Close()
	if s.Open == nil {
		s.Open = func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(path), name)) }
	}
	return s.Read(path, f)
}

// Read reads a brief; name is that of messages. The error is an Errors with every mistake in the file, or that of r.
func (s Source) Read(name string, r io.Reader) (*Brief, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxFile+1))
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", name, err)
	}
	if len(data) > maxFile {
		return nil, Errors{{File: name, Message: fmt.Sprintf("is larger than %d bytes; this is no brief", maxFile)}}
	}
	root, fault := parse(name, data)
	if fault != nil {
		return nil, Errors{fault}
	}
	b := &Brief{file: name, attached: map[string][]byte{}}
	d := &decoder{file: name, pos: map[string]Pos{}, bad: map[string]bool{}, wide: asksWide(root)}
	d.value("", root, reflect.ValueOf(b).Elem(), "")
	b.pos = d.pos
	v := &validator{b: b, bad: d.bad, errs: d.errs}
	v.files(s)
	v.all()
	if len(v.errs) > 0 {
		v.errs.sort()
		return nil, v.errs
	}
	return b, nil
}

// parse returns the root of the only document in data.
func parse(name string, data []byte) (*yaml.Node, *Error) {
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc, more yaml.Node
	switch err := dec.Decode(&doc); {
	case err == io.EOF:
		return nil, &Error{File: name, Message: "is empty; 'leanbay schema' describes what a brief holds"}
	case err != nil:
		return nil, syntaxError(name, err)
	}
	if err := dec.Decode(&more); err == nil {
		return nil, &Error{File: name, Pos: Pos{more.Line, more.Column}, Message: "a second document begins here; a brief is one document, take out the line ---"}
	} else if err != io.EOF {
		return nil, syntaxError(name, err)
	}
	return doc.Content[0], nil
}

// syntaxLine finds the line in a message of the YAML parser.
var syntaxLine = regexp.MustCompile(`line ([0-9]+): `)

// syntaxError turns a message of the YAML parser into a mistake with a place; the parser does not know the column.
func syntaxError(name string, err error) *Error {
	text := strings.TrimPrefix(err.Error(), "yaml: ")
	e := &Error{File: name}
	if m := syntaxLine.FindStringSubmatch(text); m != nil {
		e.Line, _ = strconv.Atoi(m[1])
		e.Column = 1
		text = strings.Replace(text, m[0], "", 1)
	}
	e.Message = "is not valid YAML here: " + text + "; check indentation, colons and quotes at and above this line"
	return e
}

// asksWide looks ahead for freedoms: wide, since the word decides the defaults of keys before it.
func asksWide(root *yaml.Node) bool {
	f := child(root, "freedoms")
	if f != nil && f.Kind == yaml.MappingNode {
		f = child(f, "breadth")
	}
	return f != nil && f.Value == string(Wide)
}

// child returns the value of a key, or nil.
func child(n *yaml.Node, name string) *yaml.Node {
	if n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == name {
			return n.Content[i+1]
		}
	}
	return nil
}

// files opens the files that the brief names, if s can.
func (v *validator) files(s Source) {
	f := v.b.Files
	if s.Open != nil {
		for _, one := range []struct{ path, name string }{
			{"files.overrides", f.Overrides}, {"files.prices", f.Prices}, {"files.sections", f.Sections},
		} {
			if one.name == "" {
				continue
			}
			data, err := s.Open(one.name)
			if err != nil {
				v.fault(one.path, "%s cannot be opened: %v; the name is relative to the brief", one.name, err)
				continue
			}
			v.b.attached[one.path] = data
		}
	}
	if s.Stock == nil {
		return
	}
	find, err := s.Stock(v.b.attached["files.sections"])
	if err != nil {
		v.fault("files.sections", "%v", err)
		return
	}
	v.find = find
}

// Overrides returns the content of the certifier's file of coefficients, nil if the brief names none.
func (b *Brief) Overrides() []byte { return b.attached["files.overrides"] }

// Prices returns the content of the file of prices, nil if the brief names none.
func (b *Brief) Prices() []byte { return b.attached["files.prices"] }

// OwnSections returns the content of the brief's own list of sections, nil if it names none.
func (b *Brief) OwnSections() []byte { return b.attached["files.sections"] }
