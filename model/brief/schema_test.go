package brief

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"leanbay/solver"
)

// fieldTypes lists every struct type of a brief.
func fieldTypes(t reflect.Type, seen map[reflect.Type]bool) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map:
		fieldTypes(t.Elem(), seen)
	case reflect.Struct:
		if seen[t] {
			return
		}
		seen[t] = true
		for i := range t.NumField() {
			if t.Field(i).IsExported() {
				fieldTypes(t.Field(i).Type, seen)
			}
		}
	}
}

// TestEveryFieldIsDescribed: every exported field has a key, a comment, and tags that can be read.
func TestEveryFieldIsDescribed(t *testing.T) {
	types := map[reflect.Type]bool{}
	fieldTypes(reflect.TypeFor[Brief](), types)
	if len(types) < 30 {
		t.Fatalf("only %d types found", len(types))
	}
	for typ := range types {
		keys := map[string]bool{}
		for i := range typ.NumField() {
			f := typ.Field(i)
			if !f.IsExported() {
				continue
			}
			name := f.Tag.Get("yaml")
			if name == "" || keys[name] {
				t.Errorf("%s.%s has no key of its own", typ.Name(), f.Name)
			}
			keys[name] = true
			if doc := docs()[typ.Name()+"."+f.Name]; len(doc) < 8 || !strings.HasSuffix(doc, ".") {
				t.Errorf("%s.%s: description %q", typ.Name(), f.Name, doc)
			}
			parseBounds(f.Tag.Get("range"))
			for _, text := range []string{f.Tag.Get("default"), f.Tag.Get("wide")} {
				if text != "" {
					setDefault(reflect.New(f.Type).Elem(), text, f.Tag) // panics on a default out of range
				}
			}
		}
	}
}

// TestNumbersHaveRanges: a number without a range could be nonsense unseen.
func TestNumbersHaveRanges(t *testing.T) {
	types := map[reflect.Type]bool{}
	fieldTypes(reflect.TypeFor[Brief](), types)
	for typ := range types {
		for i := range typ.NumField() {
			f := typ.Field(i)
			leaf := f.Type
			for leaf.Kind() == reflect.Slice || leaf.Kind() == reflect.Map || leaf.Kind() == reflect.Array || leaf.Kind() == reflect.Pointer {
				leaf = leaf.Elem()
			}
			number := leaf.Kind() == reflect.Float64 || leaf.Kind() == reflect.Int
			if f.IsExported() && number && f.Tag.Get("range") == "" {
				t.Errorf("%s.%s has no range", typ.Name(), f.Name)
			}
		}
	}
}

// node is as much of a JSON Schema as the tests look at.
type node struct {
	ID          string           `json:"$id"`
	Comment     string           `json:"$comment"`
	Ref         string           `json:"$ref"`
	Defs        map[string]*node `json:"$defs"`
	Description string           `json:"description"`
	Properties  map[string]*node `json:"properties"`
	OneOf       []*node          `json:"oneOf"`
	Required    []string         `json:"required"`
	Minimum     *float64         `json:"minimum"`
	Maximum     *float64         `json:"maximum"`
	Default     any              `json:"default"`
}

// walk visits n and all that is below it.
func (n *node) walk(path string, visit func(path string, n *node)) {
	visit(path, n)
	for name, p := range n.Properties {
		p.walk(path+"."+name, visit)
	}
	for _, o := range n.OneOf {
		o.walk(path, visit)
	}
	for name, d := range n.Defs {
		d.walk(name, visit)
	}
}

// TestSchema: every property of the printed schema has a description, every reference a definition, and what is
// required, bounded and defaulted agrees with the tags.
func TestSchema(t *testing.T) {
	text, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	var s node
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	if s.ID != "urn:leanbay:brief" || s.Comment != solver.Caution {
		t.Errorf("id %q, comment %q", s.ID, s.Comment)
	}
	properties := 0
	s.walk("", func(path string, n *node) {
		for name, p := range n.Properties {
			properties++
			if len(p.Description) < 8 {
				t.Errorf("%s.%s has no description", path, name)
			}
		}
		if n.Ref != "" && s.Defs[strings.TrimPrefix(n.Ref, "#/$defs/")] == nil {
			t.Errorf("%s refers to %s, which is not there", path, n.Ref)
		}
	})
	if properties < 200 {
		t.Errorf("%d properties", properties)
	}
	span := s.Defs["Building"].Properties["span"]
	if !strings.HasSuffix(span.Description, "A bare number is in m.") || *span.OneOf[0].Minimum != 2 || *span.OneOf[0].Maximum != 60 {
		t.Errorf("span %+v", span)
	}
	if d := s.Defs["Limits"].Properties["eaves_sway"].Default; d != 150.0 {
		t.Errorf("default of eaves_sway %v", d)
	}
	if got := fmt.Sprint(s.Defs["Brief"].Required); got != "[name site building proposal]" {
		t.Errorf("required %s", got)
	}
	again, err := Schema()
	if err != nil || string(again) != string(text) {
		t.Error("the schema differs from run to run")
	}
}

// TestUnits converts each unit; the factors are the SI's (BIPM, The International System of Units, 2019).
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		as   reflect.Type
		text string
		want float64
	}{
		{reflect.TypeFor[Length](), "4200 mm", 4.2},
		{reflect.TypeFor[Length](), "+4.2m", 4.2},
		{reflect.TypeFor[Size](), "5", 0.005},
		{reflect.TypeFor[Size](), ".3 m", 0.3},
		{reflect.TypeFor[Pressure](), "3", 3000},
		{reflect.TypeFor[Pressure](), "3 kN/m²", 3000},
		{reflect.TypeFor[Pressure](), "250 Pa", 250},
		{reflect.TypeFor[AreaMass](), "12", 12},
		{reflect.TypeFor[AreaMass](), "0.0980665 kPa", 10}, // 98.0665 Pa / 9.80665 m/s²
		{reflect.TypeFor[Mass](), "0.5 t", 500},
		{reflect.TypeFor[Angle](), "90°", math.Pi / 2},
		{reflect.TypeFor[Angle](), "1 rad", 1},
		{reflect.TypeFor[Speed](), "162 km/h", 45},
		{reflect.TypeFor[LineForce](), "2.5 kN/m", 2500},
		{reflect.TypeFor[Stress](), "300", 300e6},
		{reflect.TypeFor[RotationalStiffness](), "800 kNm/rad", 800e3},
		{reflect.TypeFor[Stiffness](), "2e4", 2e7},
		{reflect.TypeFor[Area](), "1.5 m2", 1.5},
	} {
		got, wrong := quantities[c.as].parse(c.text)
		if wrong != "" || math.Abs(got-c.want) > 1e-15*math.Abs(c.want)*4 {
			t.Errorf("%v %q: %v %s, want %v", c.as, c.text, got, wrong, c.want)
		}
	}
}

// TestMillimetresAndMetresAgree: every whole millimetre reads the same to the last bit in both units.
func TestMillimetresAndMetresAgree(t *testing.T) {
	q := quantities[reflect.TypeFor[Length]()]
	for mm := range 30000 {
		a, _ := q.parse(fmt.Sprintf("%d mm", mm))
		b, _ := q.parse(fmt.Sprintf("%d.%03d", mm/1000, mm%1000))
		if a != b {
			t.Fatalf("%d mm: %v and %v", mm, a, b)
		}
	}
}

// TestRatios reads limits as they are written on drawings.
func TestRatios(t *testing.T) {
	for _, text := range []string{"150", "1/150", "H/150", "span / 150", "bay/150", "L/150"} {
		if v, wrong := parseRatio(text); v != 150 || wrong != "" {
			t.Errorf("%q: %v %s", text, v, wrong)
		}
	}
	for _, text := range []string{"", "H/", "150 mm", "H/x", "0.01"} {
		if v, wrong := parseRatio(text); wrong == "" {
			t.Errorf("%q: %v without complaint", text, v)
		}
	}
}
