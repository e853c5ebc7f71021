package jsontree

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
)

func TestPlaces(t *testing.T) {
	v, err := Parse([]byte("{\n  \"é\": [1.50, true],\n\t\"b\" : {\"c\": null, \"c\": \"x\"}\n}\n"))
	if err != nil {
		t.Fatal(err)
	}
	list, obj := v.Fields[0], v.Fields[1]
	for _, c := range []struct {
		what      string
		got, want Pos
	}{
		{"object", v.Pos, Pos{1, 1}}, {"key é", list.Pos, Pos{2, 3}}, {"list", list.Value.Pos, Pos{2, 8}},
		{"1.50", list.Value.Items[0].Pos, Pos{2, 9}}, {"true", list.Value.Items[1].Pos, Pos{2, 15}},
		{"key b", obj.Pos, Pos{3, 2}}, {"second c", obj.Value.Fields[1].Pos, Pos{3, 20}}, {"x", obj.Value.Fields[1].Value.Pos, Pos{3, 25}},
	} {
		if c.got != c.want {
			t.Errorf("%s stands at %v, want %v", c.what, c.got, c.want)
		}
	}
	if list.Value.Items[0].Literal != "1.50" || !list.Value.Items[1].True || obj.Value.Fields[0].Value.Kind != Null {
		t.Errorf("values read wrongly: %+v", v)
	}
}

func TestSyntax(t *testing.T) {
	for text, want := range map[string]string{
		"":                "1:1: the file is empty",
		"{\"a\": [1, 2}":  "1:12: not JSON: invalid character '}'",
		"{\n \"a\": NaN}": "2:7: not JSON: invalid character 'N' looking for beginning of value; write a plain number",
		"[1,]":            "1:4: not JSON",
		"[1":              "1:3: the file ends too soon",
		"{} {}":           "1:4: not JSON: invalid character '{' after top-level value",
		strings.Repeat("[", 50) + strings.Repeat("]", 50): "1:42: lists and objects are nested too deep",
	} {
		_, err := Parse([]byte(text))
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%.20q: got %v, want %s…", text, err, want)
		}
	}
}

// FuzzParse holds Parse to encoding/json: what that accepts is a tree, the rest a SyntaxError inside the text.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"{}", "[1,2,{\"a\":null}]", "\"\\ud83d\\ude00\"", "{\"a\":1e999}", "\xef\xbb\xbf{}", "[nan]", "{\"a\":1,\"a\":2}", "\x00", "[1}", "-"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		v, err := Parse(data)
		if err == nil {
			if v.Kind == "" || v.Line < 1 {
				t.Fatalf("no kind or place: %+v", v)
			}
			return
		}
		var s *SyntaxError
		if !errors.As(err, &s) || s.Line < 1 || s.Column < 1 {
			t.Fatalf("error without a place: %v", err)
		}
		if json.Valid(data) && !strings.Contains(s.Message, "too deep") {
			t.Fatalf("valid JSON refused: %v", err)
		}
	})
}
