package brief

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	slashpath "path"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// maxFile is the largest brief that is read, in bytes; a brief with a hundred frames and doors is under a tenth of it.
const maxFile = 1 << 20

// opener returns the content of a file that a brief names; nil if there is nowhere to look.
type opener func(name string) ([]byte, error)

// Read reads a brief; name is that of messages. The error is an Errors with every mistake in the file, or that of r.
// Files that the brief names are not opened: use ReadFile or ReadFS for a brief that has some.
func Read(name string, r io.Reader) (*Brief, error) { return read(name, r, nil) }

// ReadFile reads the brief at path, and the files that it names, relative to it.
func ReadFile(path string) (*Brief, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the brief: %w", err)
	}
	defer f.Close()
	return read(path, f, func(name string) ([]byte, error) {
		if !filepath.IsAbs(name) {
			name = filepath.Join(filepath.Dir(path), name)
		}
		return os.ReadFile(name)
	})
}

// ReadFS reads the brief called name in fsys, and the files that it names, relative to it.
func ReadFS(fsys fs.FS, name string) (*Brief, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, fmt.Errorf("cannot read the brief: %w", err)
	}
	defer f.Close()
	return read(name, f, func(ref string) ([]byte, error) { return fs.ReadFile(fsys, slashpath.Join(slashpath.Dir(name), ref)) })
}

// read reads, decodes and validates.
func read(name string, r io.Reader, open opener) (*Brief, error) {
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
	d := &decoder{file: name, pos: map[string]Pos{}, bad: newBadPaths(), wide: asksWide(root)}
	d.value("", root, reflect.ValueOf(b).Elem(), "")
	b.pos = d.pos
	v := &validator{b: b, bad: d.bad, errs: d.errs}
	v.files(open)
	v.all()
	if len(v.errs) > 0 {
		v.errs.sort(name)
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
