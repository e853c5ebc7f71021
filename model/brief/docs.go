package brief

import (
	"embed"
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"strings"
	"sync"
)

// The comments on the fields are the descriptions of the schema and of messages, so that one text serves all.
//
//go:embed types.go proposal.go freedoms.go quantities.go words.go
var sources embed.FS

// docs maps "Type" and "Type.Field" to their comments, read once from the embedded sources.
var docs = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	entries, _ := sources.ReadDir(".")
	for _, e := range entries {
		src, _ := sources.ReadFile(e.Name())
		f, err := parser.ParseFile(token.NewFileSet(), e.Name(), src, parser.ParseComments)
		if err != nil {
			panic("brief: embedded source: " + err.Error())
		}
		for _, decl := range f.Decls {
			collectDocs(out, decl)
		}
	}
	return out
})

// collectDocs adds the comments of a type declaration and its fields.
func collectDocs(out map[string]string, decl ast.Decl) {
	g, ok := decl.(*ast.GenDecl)
	if !ok || g.Tok != token.TYPE {
		return
	}
	for _, spec := range g.Specs {
		t := spec.(*ast.TypeSpec)
		out[t.Name.Name] = oneLine(g.Doc)
		s, ok := t.Type.(*ast.StructType)
		if !ok {
			continue
		}
		for _, f := range s.Fields.List {
			for _, name := range f.Names {
				out[t.Name.Name+"."+name.Name] = oneLine(f.Doc)
			}
		}
	}
}

// oneLine joins a comment's lines.
func oneLine(c *ast.CommentGroup) string { return strings.Join(strings.Fields(c.Text()), " ") }

// explain says what a field of t holds, with its unit.
func explain(t reflect.Type, f reflect.StructField) string {
	text := docs()[t.Name()+"."+f.Name]
	if u := unitNote(f.Type); u != "" {
		return strings.TrimSuffix(text, ".") + ", in " + u
	}
	return text
}

// unitNote names the unit of a bare number of type t, of its elements or its values; "" if it has none.
func unitNote(t reflect.Type) string {
	if t == reflect.TypeFor[Range]() {
		return "m"
	}
	switch t.Kind() {
	case reflect.Slice, reflect.Map, reflect.Pointer:
		return unitNote(t.Elem())
	}
	if q, ok := quantities[t]; ok {
		return q.bare()
	}
	return ""
}
