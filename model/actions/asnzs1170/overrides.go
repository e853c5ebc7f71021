package asnzs1170

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"gopkg.in/yaml.v3"
)

// Override sets one coefficient.
type Override struct {
	Name   string
	Value  float64
	Reason string
	Line   int // of the file
}

// Overrides are the certifier's own coefficients. A nil *Overrides is none.
type Overrides struct {
	Entries []Override // in the order of the file
	Others  []Override // those of other codes' names, in order
	Hash    string     // sha256 of the file's content, hexadecimal
}

// Digest returns the hash that goes into every result: "" for no overrides.
func (o *Overrides) Digest() string {
	if o == nil {
		return ""
	}
	return o.Hash
}

// ReadOverrides reads the certifier's file. name is used in messages. The form is a YAML mapping from a coefficient's
// name to its value and the reason:
//
//	wall.windward: {value: 0.8, reason: "speed varies with height"}
//
// Every mistake is reported with file, line and column: unknown names with the nearest known one, a name given twice, a
// value that is no finite number, a missing reason, an unknown key. others are names of other codes' coefficients, which the
// same file may set; they are collected, not read here.
func ReadOverrides(name string, content []byte, others ...string) (*Overrides, error) {
	sum := sha256.Sum256(content)
	o := &Overrides{Hash: hex.EncodeToString(sum[:])}
	dec := yaml.NewDecoder(bytes.NewReader(content))
	var doc yaml.Node
	if err := dec.Decode(&doc); errors.Is(err, io.EOF) {
		return o, nil
	} else if err != nil {
		return nil, fmt.Errorf("%s: %s", name, strings.TrimPrefix(err.Error(), "yaml: "))
	}
	if err := dec.Decode(new(yaml.Node)); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: more than one YAML document; give one", name)
	}
	r := overrideReader{file: name, known: map[string]bool{}, seen: map[string]bool{}}
	for _, c := range Defaults() {
		r.names = append(r.names, c.Name)
		r.known[c.Name] = true
	}
	r.others = map[string]bool{}
	for _, n := range others {
		r.names = append(r.names, n)
		r.known[n], r.others[n] = true, true
	}
	r.document(&doc, o)
	if len(r.errs) > 0 {
		return nil, errors.Join(r.errs...)
	}
	return o, nil
}

type overrideReader struct {
	file        string
	names       []string
	known, seen map[string]bool
	others      map[string]bool
	errs        []error
}

func (r *overrideReader) bad(n *yaml.Node, format string, a ...any) {
	r.errs = append(r.errs, fmt.Errorf("%s:%d:%d: %s", r.file, n.Line, n.Column, fmt.Sprintf(format, a...)))
}

func (r *overrideReader) document(doc *yaml.Node, o *Overrides) {
	top := doc
	if doc.Kind == yaml.DocumentNode {
		top = doc.Content[0]
	}
	if top.Kind != yaml.MappingNode {
		if top.Kind == yaml.ScalarNode && top.Tag == "!!null" {
			return // a file of comments
		}
		r.bad(top, "give a list of coefficients, each as 'name: {value: number, reason: \"why\"}'")
		return
	}
	for i := 0; i+1 < len(top.Content); i += 2 {
		switch e, ok := r.entry(top.Content[i], top.Content[i+1]); {
		case ok && r.others[e.Name]:
			o.Others = append(o.Others, e)
		case ok:
			o.Entries = append(o.Entries, e)
		}
	}
}

func (r *overrideReader) entry(key, val *yaml.Node) (e Override, ok bool) {
	before := len(r.errs)
	e.Name, e.Line = key.Value, key.Line
	switch {
	case !r.known[e.Name]:
		r.bad(key, "no coefficient is named %q; the nearest is %q", e.Name, nearest(e.Name, r.names))
	case r.seen[e.Name]:
		r.bad(key, "%s is given twice", e.Name)
	}
	r.seen[e.Name] = true
	if val.Kind != yaml.MappingNode {
		r.bad(val, "%s: give '{value: number, reason: \"why\"}'", e.Name)
		return e, false
	}
	hasValue := false
	for i := 0; i+1 < len(val.Content); i += 2 {
		k, v := val.Content[i], val.Content[i+1]
		switch k.Value {
		case "value":
			if hasValue {
				r.bad(k, "%s: its value is given twice", e.Name)
			}
			hasValue = true
			if err := v.Decode(&e.Value); err != nil || v.Kind != yaml.ScalarNode || math.IsNaN(e.Value) || math.IsInf(e.Value, 0) {
				r.bad(v, "%s: the value must be a finite number, not %q", e.Name, v.Value)
			}
		case "reason":
			e.Reason = strings.TrimSpace(v.Value)
		default:
			r.bad(k, "%s: unknown key %q; give value and reason", e.Name, k.Value)
		}
	}
	if !hasValue {
		r.bad(val, "%s: its value is missing", e.Name)
	}
	if e.Reason == "" {
		r.bad(val, "%s: its reason is missing; say on what the value rests", e.Name)
	}
	return e, len(r.errs) == before
}
