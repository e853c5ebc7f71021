package brief

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"
	"gopkg.in/yaml.v3"

	"leanbay/solver"
)

// Schema returns the JSON Schema of a brief (draft 2020-12), indented, generated from the types: descriptions are their
// comments, and units, ranges, words and defaults come from the tables that the reader uses.
func Schema() ([]byte, error) {
	r := jsonschema.Reflector{
		Anonymous:                  true,
		FieldNameTag:               "yaml",
		RequiredFromJSONSchemaTags: true, // what is required comes from our own tags, below
		Mapper:                     schemaOf,
		LookupComment: func(t reflect.Type, field string) string {
			if field == "" {
				return docs()[t.Name()]
			}
			return docs()[t.Name()+"."+field]
		},
	}
	s := r.Reflect(&Brief{})
	s.ID = "urn:leanbay:brief" // a name, not an address
	s.Title = "leanbay brief"
	s.Comments = solver.Caution
	seen := map[reflect.Type]bool{}
	complete(s, reflect.TypeFor[Brief](), seen)
	return json.MarshalIndent(s, "", "  ")
}

// schemaOf gives the schema of the types that are not written as they are declared; nil leaves a type to reflection.
func schemaOf(t reflect.Type) *jsonschema.Schema {
	if q, ok := quantities[t]; ok {
		return numberOr(bounds{}, q)
	}
	if known := vocabulary[t]; known != nil {
		return &jsonschema.Schema{Type: "string", Enum: anys(known)}
	}
	two := uint64(2)
	switch t {
	case reflect.TypeFor[Ratio]():
		return &jsonschema.Schema{OneOf: []*jsonschema.Schema{{Type: "number"}, {Type: "string", Pattern: ratioText.String()}}}
	case reflect.TypeFor[Range]():
		return &jsonschema.Schema{Type: "array", Items: numberOr(bounds{}, quantities[reflect.TypeFor[Length]()]), MinItems: &two, MaxItems: &two}
	case reflect.TypeFor[Rose]():
		return roseSchema(bounds{})
	case reflect.TypeFor[map[Group]Steel]():
		return groupsSchema("Steel")
	case reflect.TypeFor[map[Group]Stock]():
		return groupsSchema("Stock")
	}
	return nil
}

// numberOr is a number in the file's unit, or text with a unit behind it.
func numberOr(b bounds, q quantity) *jsonschema.Schema {
	var names []string
	for _, u := range q.units {
		names = append(names, u.names...)
	}
	text := fmt.Sprintf(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?\s*(%s)$`, strings.Join(names, "|"))
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{bounded(&jsonschema.Schema{Type: "number"}, b), {Type: "string", Pattern: text}}}
}

// bounded adds the range to a number.
func bounded(s *jsonschema.Schema, b bounds) *jsonschema.Schema {
	if b.given {
		s.Minimum, s.Maximum = json.Number(show(b.lo)), json.Number(show(b.hi))
	}
	return s
}

// roseSchema is one number, or a number for each compass point.
func roseSchema(b bounds) *jsonschema.Schema {
	props := jsonschema.NewProperties()
	for _, p := range points {
		props.Set(p, bounded(&jsonschema.Schema{Type: "number", Description: "Value for wind from " + p + "."}, b))
	}
	one := bounded(&jsonschema.Schema{Type: "number", Description: "One value for all directions."}, b)
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{one, {Type: "object", Properties: props, AdditionalProperties: jsonschema.FalseSchema}}}
}

// groupsSchema is a mapping from groups of members to the type called name.
func groupsSchema(name string) *jsonschema.Schema {
	props := jsonschema.NewProperties()
	for _, g := range Groups {
		props.Set(string(g.Name), &jsonschema.Schema{Ref: "#/$defs/" + name, Description: g.Doc})
	}
	return &jsonschema.Schema{Type: "object", Properties: props, AdditionalProperties: jsonschema.FalseSchema}
}

// shortForms are the types that a word alone may stand for.
var shortForms = map[reflect.Type]string{
	reflect.TypeFor[Steel]():    "The section alone.",
	reflect.TypeFor[Base]():     "The kind alone.",
	reflect.TypeFor[Freedoms](): "The breadth alone.",
}

// complete adds to the definition of t, and of every type below it, what reflection cannot know.
func complete(root *jsonschema.Schema, t reflect.Type, seen map[reflect.Type]bool) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map:
		complete(root, t.Elem(), seen)
		return
	case reflect.Struct:
	default:
		return
	}
	if seen[t] {
		return
	}
	seen[t] = true
	def := definition(root, t)
	for i := range t.NumField() {
		f := t.Field(i)
		name := f.Tag.Get("yaml")
		if name == "" {
			continue
		}
		complete(root, f.Type, seen)
		p, _ := def.Properties.Get(name)
		detail(p, t, f)
		if f.Tag.Get("need") == "yes" {
			def.Required = append(def.Required, name)
		}
	}
	if note, ok := shortForms[t]; ok {
		shorten(root, t, def, note)
	}
}

// definition returns the definition of t, making it where no field refers to it by reflection (map values).
func definition(root *jsonschema.Schema, t reflect.Type) *jsonschema.Schema {
	if def, ok := root.Definitions[t.Name()]; ok {
		return def
	}
	r := jsonschema.Reflector{Anonymous: true, FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, Mapper: schemaOf, ExpandedStruct: true, DoNotReference: true}
	def := r.ReflectFromType(t)
	def.Version, def.Description = "", docs()[t.Name()]
	root.Definitions[t.Name()] = def
	return def
}

// detail completes one property: description with unit and defaults, range, words.
func detail(p *jsonschema.Schema, t reflect.Type, f reflect.StructField) {
	leaf := f.Type
	inner := p
	for leaf.Kind() == reflect.Slice || (leaf.Kind() == reflect.Map && leaf.Elem().Kind() != reflect.Struct) {
		leaf, inner = leaf.Elem(), element(inner)
	}
	b := parseBounds(f.Tag.Get("range"))
	q, isQuantity := quantities[leaf]
	switch {
	case isQuantity:
		*inner = *numberOr(b, q)
	case leaf == reflect.TypeFor[Range]():
		inner.Items = numberOr(b, quantities[reflect.TypeFor[Length]()])
	case leaf == reflect.TypeFor[Rose]():
		*inner = *roseSchema(b)
	case leaf == reflect.TypeFor[Ratio]():
		bounded(inner.OneOf[0], b)
	case leaf.Kind() == reflect.Int || leaf.Kind() == reflect.Float64:
		bounded(inner, b)
	}
	if oneof := f.Tag.Get("oneof"); oneof != "" {
		inner.Enum = anys(strings.Split(oneof, "|"))
	}
	p.Description = describeField(t, f)
	if text, ok := f.Tag.Lookup("default"); ok {
		p.Default = defaultOf(text)
	}
}

// element returns the schema of a list's or mapping's elements.
func element(s *jsonschema.Schema) *jsonschema.Schema {
	if s.Items != nil {
		return s.Items
	}
	for _, p := range s.PatternProperties {
		return p // a mapping by whole numbers has one pattern
	}
	return s.AdditionalProperties
}

// describeField is the field's comment with its unit and the default when freedoms are wide.
func describeField(t reflect.Type, f reflect.StructField) string {
	text := docs()[t.Name()+"."+f.Name]
	if u := unitNote(f.Type); u != "" {
		text += " A bare number is in " + u + "."
	}
	if f.Type == reflect.TypeFor[Ratio]() {
		text += " Write 150 or H/150."
	}
	if wide, ok := f.Tag.Lookup("wide"); ok {
		text += " Default when freedoms are wide: " + wide + "."
	}
	return text
}

// defaultOf turns the text of a default into a JSON value.
func defaultOf(text string) any {
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		return v
	}
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err != nil {
		panic(fmt.Sprintf("brief: default tag %q: %v", text, err))
	}
	return v
}

// shorten lets a word stand for the mapping, with the words of the first field.
func shorten(root *jsonschema.Schema, t reflect.Type, def *jsonschema.Schema, note string) {
	full := *def
	word := &jsonschema.Schema{Type: "string", Description: note}
	if known := vocabulary[t.Field(0).Type]; known != nil {
		word.Enum = anys(known)
	}
	root.Definitions[t.Name()] = &jsonschema.Schema{Description: full.Description, OneOf: []*jsonschema.Schema{word, &full}}
}

// anys turns words into JSON values.
func anys(ws []string) []any {
	out := make([]any, len(ws))
	for i, w := range ws {
		out[i] = w
	}
	return out
}
