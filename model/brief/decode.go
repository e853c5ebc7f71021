package brief

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// decoder walks a YAML tree and the Go types side by side, and collects positions and mistakes.
type decoder struct {
	file string
	pos  map[string]Pos
	bad  badPaths
	errs Errors
	wide bool // which default applies
}

// fault records a mistake at a node of the file.
func (d *decoder) fault(n *yaml.Node, path, format string, args ...any) {
	d.bad.add(path)
	d.errs = append(d.errs, &Error{File: d.file, Pos: Pos{n.Line, n.Column}, Message: fmt.Sprintf(format, args...)})
}

// value reads n into v. The tag is that of the field that v belongs to; it reaches the elements of lists and mappings.
func (d *decoder) value(path string, n *yaml.Node, v reflect.Value, tag reflect.StructTag) {
	d.pos[path] = Pos{n.Line, n.Column}
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		d.fault(n, path, "%s uses a YAML anchor or alias; write the value out", last(path))
		return
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	if d.special(path, n, v, tag) {
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		d.structure(path, n, v)
	case reflect.Slice:
		d.list(path, n, v, tag)
	case reflect.Map:
		d.mapping(path, n, v, tag)
	default:
		d.scalar(path, n, v, tag)
	}
}

// special reads the types that have a short form or a form of their own, and says whether v is one.
func (d *decoder) special(path string, n *yaml.Node, v reflect.Value, tag reflect.StructTag) bool {
	switch v.Interface().(type) {
	case Range:
		d.stretch(path, n, v, tag)
	case Rose:
		d.rose(path, n, v, tag)
	case Steel, Base, Freedoms:
		if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
			return false
		}
		// The short form states the type's first field.
		first := v.Type().Field(0)
		d.value(key(path, first.Tag.Get("yaml")), n, v.Field(0), first.Tag)
		d.defaults(path, v, map[string]bool{first.Tag.Get("yaml"): true})
	default:
		return false
	}
	return true
}

// pair is one key of a mapping with its value.
type pair struct{ key, value *yaml.Node }

// pairs returns the keys of n, each once; it reports doubles and what is no mapping.
func (d *decoder) pairs(path string, n *yaml.Node) (out []pair, ok bool) {
	if n.Kind != yaml.MappingNode {
		d.fault(n, path, "%s is %s; write its keys indented below it", last(path), describe(n))
		return nil, false
	}
	lines := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k := n.Content[i]
		if k.Kind != yaml.ScalarNode {
			d.fault(k, path, "a key of %s is %s; write a word", last(path), describe(k))
			continue
		}
		if line, twice := lines[k.Value]; twice {
			d.fault(k, path, "key %q of %s was given already in line %d; take one out", k.Value, last(path), line)
			continue
		}
		lines[k.Value] = k.Line
		out = append(out, pair{k, n.Content[i+1]})
	}
	return out, true
}

// structure reads a mapping into a struct: every key known, none missing, defaults for the rest.
func (d *decoder) structure(path string, n *yaml.Node, v reflect.Value) {
	pairs, ok := d.pairs(path, n)
	if !ok {
		return
	}
	fields := fieldsOf(v.Type())
	given := map[string]bool{}
	meant := map[string]bool{} // by a key with a slip: not to be reported missing too
	for _, p := range pairs {
		name := p.key.Value
		i, known := fields.index[name]
		if !known {
			meant[nearest(name, fields.names)] = true
			d.fault(p.key, key(path, name), "unknown key %q in %s; %s", name, last(path), suggest(name, fields.names))
			continue
		}
		given[name] = true
		if p.value.Tag == "!!null" {
			d.fault(p.value, key(path, name), "%s has no value; give one or take the key out", name)
			continue
		}
		d.value(key(path, name), p.value, v.Field(i), v.Type().Field(i).Tag)
	}
	for _, name := range fields.names {
		f := v.Type().Field(fields.index[name])
		if f.Tag.Get("need") != "yes" || given[name] {
			continue
		}
		d.bad.add(key(path, name))
		if !meant[name] {
			d.fault(n, key(path, name), "%s lacks %q: %s", last(path), name, explain(v.Type(), f))
		}
	}
	d.defaults(path, v, given)
}

// defaults fills what the file does not state, deeply.
func (d *decoder) defaults(path string, v reflect.Value, given map[string]bool) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		name := f.Tag.Get("yaml")
		if name == "" || given[name] {
			continue
		}
		text := f.Tag.Get("default")
		if w, ok := f.Tag.Lookup("wide"); ok && d.wide {
			text = w
		}
		switch {
		case text != "":
			setDefault(v.Field(i), text, f.Tag)
		case f.Type.Kind() == reflect.Struct:
			d.defaults(key(path, name), v.Field(i), nil)
		}
	}
}

// setDefault reads the text of a tag as the file would be read. It panics if the tag is wrong, a mistake in this package.
func setDefault(v reflect.Value, text string, tag reflect.StructTag) {
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		panic(fmt.Sprintf("brief: default tag %q: %v", text, err))
	}
	d := decoder{pos: map[string]Pos{}, bad: newBadPaths()}
	d.value("default", doc.Content[0], v, tag)
	if len(d.errs) > 0 {
		panic(fmt.Sprintf("brief: default tag %q: %v", text, d.errs))
	}
}

// maxList is the longest list that is read (our choice: 300 m of frames a metre apart). It bounds the pairwise checks.
const maxList = 300

// list reads a sequence.
func (d *decoder) list(path string, n *yaml.Node, v reflect.Value, tag reflect.StructTag) {
	if n.Kind != yaml.SequenceNode {
		d.fault(n, path, "%s is %s; write a list, such as [a, b]", last(path), describe(n))
		return
	}
	if len(n.Content) > maxList {
		d.fault(n, path, "%s has %d entries; a shed has at most %d", last(path), len(n.Content), maxList)
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content)))
	for i, c := range n.Content {
		d.value(fmt.Sprintf("%s[%d]", path, i), c, v.Index(i), tag)
	}
}

// mapping reads a mapping whose keys are words of a vocabulary or whole numbers.
func (d *decoder) mapping(path string, n *yaml.Node, v reflect.Value, tag reflect.StructTag) {
	pairs, ok := d.pairs(path, n)
	if !ok {
		return
	}
	v.Set(reflect.MakeMap(v.Type()))
	for _, p := range pairs {
		k := reflect.New(v.Type().Key()).Elem()
		if k.Kind() == reflect.Int {
			i, err := strconv.Atoi(p.key.Value)
			if err != nil || i < 1 {
				d.fault(p.key, key(path, p.key.Value), "key %q of %s is no positive whole number", p.key.Value, last(path))
				continue
			}
			k.SetInt(int64(i))
		} else {
			known := vocabulary[k.Type()]
			if !slices.Contains(known, p.key.Value) {
				d.fault(p.key, key(path, p.key.Value), "unknown key %q in %s; %s", p.key.Value, last(path), suggest(p.key.Value, known))
				continue
			}
			k.SetString(p.key.Value)
		}
		e := reflect.New(v.Type().Elem()).Elem()
		d.value(key(path, p.key.Value), p.value, e, tag)
		v.SetMapIndex(k, e)
	}
}

// stretch reads [from, to].
func (d *decoder) stretch(path string, n *yaml.Node, v reflect.Value, tag reflect.StructTag) {
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		d.fault(n, path, "%s is %s; write the stretch as [from, to] in m", last(path), describe(n))
		return
	}
	before := len(d.errs)
	for i, c := range n.Content {
		d.value(fmt.Sprintf("%s[%d]", path, i), c, v.Index(i), tag)
	}
	if r := v.Interface().(Range); len(d.errs) == before && r[0] >= r[1] {
		d.fault(n, path, "%s runs from %s to %s; give the smaller number first", last(path), metres(r[0]), metres(r[1]))
	}
	if len(d.errs) > before {
		d.bad.add(path)
	}
}

// rose reads one number for all directions, or a mapping of compass points.
func (d *decoder) rose(path string, n *yaml.Node, v reflect.Value, tag reflect.StructTag) {
	if n.Kind == yaml.ScalarNode {
		d.scalar(path, n, v.Index(0), tag)
		for i := 1; i < v.Len(); i++ {
			v.Index(i).Set(v.Index(0))
		}
		return
	}
	pairs, ok := d.pairs(path, n)
	if !ok {
		return
	}
	for _, p := range pairs {
		i := slices.Index(points[:], p.key.Value)
		if i < 0 {
			d.fault(p.key, key(path, p.key.Value), "%q is no compass point; use %s", p.key.Value, strings.Join(points[:], ", "))
			continue
		}
		d.value(key(path, p.key.Value), p.value, v.Index(i), tag)
	}
}

// key joins a path and a key.
func key(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// last names the thing at path in messages: its key, with its number (from 1) in a list.
func last(path string) string {
	if path == "" {
		return "the brief"
	}
	p := path[strings.LastIndex(path, ".")+1:]
	name, rest, listed := strings.Cut(p, "[")
	if !listed {
		return name
	}
	i, _ := strconv.Atoi(strings.TrimSuffix(rest, "]"))
	return fmt.Sprintf("%s entry %d", name, i+1)
}

// describe says in words what a node is.
func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a mapping"
	case yaml.SequenceNode:
		return fmt.Sprintf("a list of %d", len(n.Content))
	}
	if n.Tag == "!!null" {
		return "empty"
	}
	if len(n.Value) > 40 {
		return fmt.Sprintf("%q…", n.Value[:40])
	}
	return fmt.Sprintf("%q", n.Value)
}
