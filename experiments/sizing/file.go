package sizing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leanbay/experiments/jsontree"
)

// Truss is a discrete sizing problem of pin-jointed bars in any consistent units: small displacements, no self weight,
// no buckling. Each load case acts by itself.
type Truss struct {
	Name, Title  string
	Notes        []string
	Units        map[string]string // length, force, stress, area, mass, density: words for the answer
	Nodes        [][3]float64
	Held         [][3]bool // by node
	Members      [][2]int
	Groups       [][]int // members that share an area
	E, Density   float64
	Cases        []Case
	Tension      float64   // stress limit, positive
	Compression  float64   // stress limit, positive
	Displacement []Limit   // on absolute values
	Areas        []float64 // available to every group, rising
}

// Case is one set of nodal loads.
type Case struct {
	Name  string
	Loads []Load
}

// Load is a force on a node.
type Load struct {
	Node  int
	Force [3]float64
}

// Limit bounds the displacement of some nodes in some directions (0 x, 1 y, 2 z).
type Limit struct {
	Nodes, Directions []int
	Limit             float64
}

// reader turns the tree of a file into a Truss and collects every complaint.
type reader struct {
	name string
	errs []error
}

// Read reads the neutral form of a sizing problem; name is the file's, for messages. The error lists every mistake that
// was found, each with file, line, column, what is wrong and what would be right. Keys that the form does not know are ignored.
func Read(name string, data []byte) (*Truss, error) {
	tree, err := jsontree.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("%s:%w", name, err)
	}
	r := &reader{name: name}
	r.doubles(tree)
	t := r.truss(tree)
	if len(r.errs) == 0 {
		r.check(tree, t)
	}
	if len(r.errs) > 0 {
		return nil, errors.Join(r.errs...)
	}
	return t, nil
}

func (r *reader) complain(v jsontree.Value, format string, args ...any) {
	r.errs = append(r.errs, fmt.Errorf("%s:%d:%d: %s", r.name, v.Line, v.Column, fmt.Sprintf(format, args...)))
}

func (r *reader) truss(v jsontree.Value) *Truss {
	t := &Truss{Units: map[string]string{}}
	if v.Kind != jsontree.Object {
		r.complain(v, "a sizing problem is an object, this is a %s", v.Kind)
		return t
	}
	t.Name, t.Title = r.optionalText(v, "name"), r.optionalText(v, "title")
	if notes, ok := field(v, "notes"); ok {
		for _, n := range r.listOf(notes, "notes") {
			t.Notes = append(t.Notes, r.text(n, "a note"))
		}
	}
	if units, ok := field(v, "units"); ok && r.is(units, "units", jsontree.Object) {
		for _, f := range units.Fields {
			t.Units[f.Key] = r.text(f.Value, "unit "+f.Key)
		}
	}
	for i, n := range r.listOf(r.need(v, "nodes"), "nodes") {
		t.Nodes = append(t.Nodes, r.triple(n, fmt.Sprintf("node %d", i)))
	}
	t.Held = make([][3]bool, len(t.Nodes))
	for i, s := range r.listOf(r.need(v, "supports"), "supports") {
		r.support(t, s, i)
	}
	for i, m := range r.listOf(r.need(v, "members"), "members") {
		ends := r.indexes(m, fmt.Sprintf("member %d", i), len(t.Nodes), "node")
		if len(ends) != 2 {
			r.complain(m, "member %d has %d ends; give two node indexes", i, len(ends))
			ends = []int{0, 0}
		}
		t.Members = append(t.Members, [2]int{ends[0], ends[1]})
	}
	for i, g := range r.listOf(r.need(v, "groups"), "groups") {
		t.Groups = append(t.Groups, r.indexes(g, fmt.Sprintf("group %d", i), len(t.Members), "member"))
	}
	t.E, t.Density = r.positive(r.need(v, "E"), "E"), r.positive(r.need(v, "density"), "density")
	for i, c := range r.listOf(r.need(v, "load_cases"), "load_cases") {
		t.Cases = append(t.Cases, r.loadCase(t, c, i))
	}
	if s := r.need(v, "stress_limits"); r.is(s, "stress_limits", jsontree.Object) {
		t.Tension = r.positive(r.need(s, "tension"), "the tension limit")
		t.Compression = r.positive(r.need(s, "compression"), "the compression limit")
	}
	if d, ok := field(v, "displacement_limits"); ok {
		for i, l := range r.listOf(d, "displacement_limits") {
			t.Displacement = append(t.Displacement, r.limit(t, l, i))
		}
	}
	for i, a := range r.listOf(r.need(v, "available_areas"), "available_areas") {
		t.Areas = append(t.Areas, r.positive(a, fmt.Sprintf("area %d", i)))
	}
	slices.Sort(t.Areas)
	t.Areas = slices.Compact(t.Areas)
	return t
}

func (r *reader) support(t *Truss, v jsontree.Value, i int) {
	what := fmt.Sprintf("support %d", i)
	if !r.is(v, what, jsontree.Object) {
		return
	}
	node := r.index(r.need(v, "node"), what, len(t.Nodes), "node")
	fixed := r.listOf(r.need(v, "fixed"), what+", fixed")
	if len(fixed) != 3 {
		r.complain(v, "%s: fixed has %d entries; give three, for x, y and z", what, len(fixed))
		return
	}
	for d, f := range fixed {
		if f.Kind != jsontree.Boolean {
			r.complain(f, "%s: fixed is a %s; give true or false", what, f.Kind)
		} else if f.True && node < len(t.Held) {
			t.Held[node][d] = true
		}
	}
}

func (r *reader) loadCase(t *Truss, v jsontree.Value, i int) Case {
	what := fmt.Sprintf("load case %d", i)
	if !r.is(v, what, jsontree.Object) {
		return Case{}
	}
	c := Case{Name: r.optionalText(v, "name")}
	for k, l := range r.listOf(r.need(v, "nodal_loads"), what+", nodal_loads") {
		what := fmt.Sprintf("%s, load %d", what, k)
		if r.is(l, what, jsontree.Object) {
			c.Loads = append(c.Loads, Load{
				Node:  r.index(r.need(l, "node"), what, len(t.Nodes), "node"),
				Force: r.triple(r.need(l, "force"), what+", force"),
			})
		}
	}
	return c
}

func (r *reader) limit(t *Truss, v jsontree.Value, i int) Limit {
	what := fmt.Sprintf("displacement limit %d", i)
	if !r.is(v, what, jsontree.Object) {
		return Limit{}
	}
	return Limit{
		Nodes:      r.indexes(r.need(v, "nodes"), what, len(t.Nodes), "node"),
		Directions: r.indexes(r.need(v, "directions"), what, 3, "direction"),
		Limit:      r.positive(r.need(v, "limit"), what),
	}
}

// check holds the parts against each other.
func (r *reader) check(v jsontree.Value, t *Truss) {
	for _, k := range []struct {
		key string
		n   int
	}{{"nodes", len(t.Nodes)}, {"members", len(t.Members)}, {"groups", len(t.Groups)}, {"load_cases", len(t.Cases)}, {"available_areas", len(t.Areas)}} {
		if k.n == 0 {
			r.complain(at(v, k.key), "%s is empty; give at least one", k.key)
		}
	}
	for i, m := range t.Members {
		if length := t.length(i); !(length > 0) || math.IsInf(length, 0) {
			r.complain(at(v, "members").Items[i], "member %d from node %d to node %d has length %g; its ends must be apart", i, m[0], m[1], length)
		}
	}
	group := make([]int, len(t.Members))
	for g, members := range t.Groups {
		for _, m := range members {
			if group[m] != 0 {
				r.complain(at(v, "groups").Items[g], "member %d is in group %d and in group %d; keep it in one", m, group[m]-1, g)
			}
			group[m] = g + 1
		}
	}
	var none []string
	for m, g := range group {
		if g == 0 {
			none = append(none, fmt.Sprint(m))
		}
	}
	if len(none) > 0 {
		r.complain(at(v, "groups"), "in no group: member %s; put every member in one", strings.Join(none, ", "))
	}
}

// length returns the length of member i.
func (t *Truss) length(i int) float64 {
	a, b := t.Nodes[t.Members[i][0]], t.Nodes[t.Members[i][1]]
	return math.Hypot(math.Hypot(b[0]-a[0], b[1]-a[1]), b[2]-a[2])
}

// missing is the kind of a value that is not there: it was complained about once.
const missing jsontree.Kind = "missing"

func field(v jsontree.Value, key string) (jsontree.Value, bool) {
	for _, f := range v.Fields {
		if f.Key == key {
			return f.Value, true
		}
	}
	return jsontree.Value{}, false
}

// at returns a field that is known to be there.
func at(v jsontree.Value, key string) jsontree.Value {
	f, _ := field(v, key)
	return f
}

// doubles complains of keys that are given twice in one object.
func (r *reader) doubles(v jsontree.Value) {
	seen := map[string]bool{}
	for _, f := range v.Fields {
		if seen[f.Key] {
			r.complain(jsontree.Value{Pos: f.Pos}, "%q is given twice; keep one", f.Key)
		}
		seen[f.Key] = true
		r.doubles(f.Value)
	}
	for _, i := range v.Items {
		r.doubles(i)
	}
}

func (r *reader) need(v jsontree.Value, key string) jsontree.Value {
	f, ok := field(v, key)
	if !ok {
		r.complain(v, "%q is missing; every sizing problem needs it", key)
		return jsontree.Value{Pos: v.Pos, Kind: missing}
	}
	return f
}

// is reports whether v is of a kind, and complains if it is not and was not already missing.
func (r *reader) is(v jsontree.Value, what string, kind jsontree.Kind) bool {
	if v.Kind != kind && v.Kind != missing {
		r.complain(v, "%s is a %s; give a %s", what, v.Kind, kind)
	}
	return v.Kind == kind
}

func (r *reader) listOf(v jsontree.Value, what string) []jsontree.Value {
	r.is(v, what, jsontree.List)
	return v.Items
}

func (r *reader) text(v jsontree.Value, what string) string {
	if !r.is(v, what, jsontree.Text) {
		return ""
	}
	return v.Literal
}

func (r *reader) optionalText(v jsontree.Value, key string) string {
	f, ok := field(v, key)
	if !ok {
		return ""
	}
	return r.text(f, key)
}

func (r *reader) number(v jsontree.Value, what string) float64 {
	if !r.is(v, what, jsontree.Number) {
		return 0
	}
	x, err := strconv.ParseFloat(v.Literal, 64)
	if err != nil {
		r.complain(v, "%s: %s is not a number that can be held", what, v.Literal)
	}
	return x
}

func (r *reader) positive(v jsontree.Value, what string) float64 {
	x := r.number(v, what)
	if v.Kind == jsontree.Number && !(x > 0) {
		r.complain(v, "%s is %g; it must be above 0", what, x)
	}
	return x
}

func (r *reader) triple(v jsontree.Value, what string) (out [3]float64) {
	list := r.listOf(v, what)
	if len(list) != 3 {
		if v.Kind == jsontree.List {
			r.complain(v, "%s has %d entries; give three, for x, y and z", what, len(list))
		}
		return out
	}
	for i, n := range list {
		out[i] = r.number(n, what)
	}
	return out
}

func (r *reader) index(v jsontree.Value, what string, n int, of string) int {
	x := r.number(v, what+", "+of)
	if v.Kind != jsontree.Number {
		return 0
	}
	if x != math.Trunc(x) || x < 0 || x >= float64(n) {
		r.complain(v, "%s: there is no %s %s; they are numbered from 0 to %d", what, of, v.Literal, n-1)
		return 0
	}
	return int(x)
}

func (r *reader) indexes(v jsontree.Value, what string, n int, of string) []int {
	var out []int
	for _, i := range r.listOf(v, what) {
		out = append(out, r.index(i, what, n, of))
	}
	return out
}
