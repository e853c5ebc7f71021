package brief

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strconv"
)

// Hash returns the SHA-256 of what the brief says, in hexadecimal: every value that is not zero, with its path, in base
// units, defaults included, and the hashes of the files that it names as far as they were opened. Comments, spacing,
// the order of keys and the spelling of units don't change it, nor does a new field that a brief leaves out.
func (b *Brief) Hash() string {
	h := sha256.New()
	canonical(h, "", reflect.ValueOf(*b))
	for _, path := range slices.Sorted(maps.Keys(b.attached)) {
		fmt.Fprintf(h, "%s sha256 %x\n", path, sha256.Sum256(b.attached[path]))
	}
	return hex.EncodeToString(h.Sum(nil))
}

// canonical writes one line a value, in the order of the types' fields.
func canonical(w io.Writer, path string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if name := v.Type().Field(i).Tag.Get("yaml"); name != "" {
				canonical(w, key(path, name), v.Field(i))
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			canonical(w, path, v.Elem())
		}
	case reflect.Slice, reflect.Array:
		if v.Kind() == reflect.Array && v.IsZero() {
			return
		}
		for i := range v.Len() {
			fmt.Fprintf(w, "%s[%d]\n", path, i) // so that an entry of zeros counts
			canonical(w, fmt.Sprintf("%s[%d]", path, i), v.Index(i))
		}
	case reflect.Map:
		canonicalMap(w, path, v)
	default:
		if !v.IsZero() {
			fmt.Fprintf(w, "%s=%s\n", path, plain(v))
		}
	}
}

// canonicalMap writes a map in the order of its keys.
func canonicalMap(w io.Writer, path string, v reflect.Value) {
	byKey := map[string]reflect.Value{}
	for it := v.MapRange(); it.Next(); {
		byKey[plain(it.Key())] = it.Value()
	}
	for _, k := range slices.Sorted(maps.Keys(byKey)) {
		fmt.Fprintf(w, "%s.%s\n", path, k)
		canonical(w, path+"."+k, byKey[k])
	}
}

// plain writes a scalar without loss.
func plain(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		return strconv.FormatFloat(v.Float(), 'g', -1, 64)
	case reflect.Int:
		return strconv.FormatInt(v.Int(), 10)
	case reflect.Bool:
		return strconv.FormatBool(v.Bool())
	}
	return strconv.Quote(v.String())
}
