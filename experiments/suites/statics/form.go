package statics

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// form is a structure in the neutral form, for writing as JSON.
type form struct {
	Schema   string      `json:"schema"`
	ID       string      `json:"id,omitempty"`
	Nodes    []node      `json:"nodes"`
	Supports []*support  `json:"supports"`
	Members  []*member   `json:"members"`
	Cases    []*loadCase `json:"load_cases"`
}

type node struct {
	ID int     `json:"id"`
	X  float64 `json:"x"`
	Y  float64 `json:"y"`
	Z  float64 `json:"z"`
}

type support struct {
	Node int     `json:"node"`
	UX   bool    `json:"ux"`
	UY   bool    `json:"uy"`
	UZ   bool    `json:"uz"`
	RX   bool    `json:"rx"`
	RY   bool    `json:"ry"`
	RZ   bool    `json:"rz"`
	KX   float64 `json:"kx,omitempty"`
	KY   float64 `json:"ky,omitempty"`
	KZ   float64 `json:"kz,omitempty"`
	KRX  float64 `json:"krx,omitempty"`
	KRY  float64 `json:"kry,omitempty"`
	KRZ  float64 `json:"krz,omitempty"`
}

type member struct {
	ID string `json:"id"`
	I  int    `json:"i"`
	J  int    `json:"j"`
	section
	YAxis    *vec               `json:"y_axis,omitempty"`
	ReleaseI []string           `json:"release_i,omitempty"`
	ReleaseJ []string           `json:"release_j,omitempty"`
	SpringsI map[string]float64 `json:"springs_i,omitempty"`
	SpringsJ map[string]float64 `json:"springs_j,omitempty"`
	OffsetI  *vec               `json:"offset_i,omitempty"`
	OffsetJ  *vec               `json:"offset_j,omitempty"`
	Tension  bool               `json:"tension_only,omitempty"`
	Press    bool               `json:"compression_only,omitempty"`
	Rod      bool               `json:"rod,omitempty"`
}

// section is what a member is made of, SI units. A nil shear area is no shear deformation.
type section struct {
	E       float64  `json:"E"`
	G       float64  `json:"G"`
	A       float64  `json:"A"`
	Iy      float64  `json:"Iy"`
	Iz      float64  `json:"Iz"`
	J       float64  `json:"J"`
	Asy     *float64 `json:"Asy"`
	Asz     *float64 `json:"Asz"`
	Density float64  `json:"density,omitempty"`
}

type loadCase struct {
	ID         string      `json:"id"`
	Analysis   string      `json:"analysis"`
	Nodal      []nodalLoad `json:"nodal,omitempty"`
	Line       []lineLoad  `json:"udl,omitempty"`
	Point      []pointLoad `json:"point,omitempty"`
	SelfWeight *vec        `json:"self_weight,omitempty"`
}

type nodalLoad struct {
	Node int `json:"node"`
	F    vec `json:"F"`
	M    vec `json:"M"`
}

type lineLoad struct {
	Member string   `json:"member"`
	Q      vec      `json:"q"`
	Axes   string   `json:"axes"`
	Per    string   `json:"per,omitempty"`
	From   *float64 `json:"from,omitempty"`
	To     *float64 `json:"to,omitempty"`
	Q2     *vec     `json:"q2,omitempty"`
}

type pointLoad struct {
	Member string  `json:"member"`
	A      float64 `json:"a"`
	F      vec     `json:"F"`
	M      vec     `json:"M"`
	Axes   string  `json:"axes"`
}

// vec is [x, y, z].
type vec [3]float64

func newForm() *form { return &form{Schema: "frame-1"} }

// at adds a node and returns its id, 1, 2, 3 … in order.
func (f *form) at(x, y, z float64) int {
	id := len(f.Nodes) + 1
	f.Nodes = append(f.Nodes, node{id, x, y, z})
	return id
}

// pos is where a node stands.
func (f *form) pos(id int) r3.Vec {
	n := f.Nodes[id-1]
	return r3.Vec{X: n.X, Y: n.Y, Z: n.Z}
}

// supportOf returns the support of a node, made if it has none.
func (f *form) supportOf(id int) *support {
	for _, s := range f.Supports {
		if s.Node == id {
			return s
		}
	}
	s := &support{Node: id}
	f.Supports = append(f.Supports, s)
	return s
}

// hold holds freedoms of a node, named as in the form, parted by spaces; "all" is all six, "pin" the translations.
func (f *form) hold(id int, dofs string) {
	s := f.supportOf(id)
	set := map[string][]*bool{
		"ux": {&s.UX}, "uy": {&s.UY}, "uz": {&s.UZ}, "rx": {&s.RX}, "ry": {&s.RY}, "rz": {&s.RZ},
		"pin": {&s.UX, &s.UY, &s.UZ}, "all": {&s.UX, &s.UY, &s.UZ, &s.RX, &s.RY, &s.RZ},
	}
	for _, d := range strings.Fields(dofs) {
		for _, b := range set[d] {
			*b = true
		}
	}
}

// planar holds every node to the X-Z plane.
func (f *form) planar() {
	for i := range f.Nodes {
		f.hold(f.Nodes[i].ID, "uy rx rz")
	}
}

// plane adds a member of the X-Z plane: its local y lies in the plane, so Iz bends in it, and positive Mz turns from X to Z
// whatever the member's direction.
func (f *form) plane(id string, i, j int, s section) *member {
	d := r3.Unit(r3.Sub(f.pos(j), f.pos(i)))
	return f.beam(id, i, j, s, vec{-d.Z, 0, d.X})
}

// beam adds a member with its local y direction.
func (f *form) beam(id string, i, j int, s section, y vec) *member {
	m := &member{ID: id, I: i, J: j, section: s, YAxis: &y}
	f.Members = append(f.Members, m)
	return m
}

// rod adds a straight bar.
func (f *form) rod(id string, i, j int, e, a float64) *member {
	m := &member{ID: id, I: i, J: j, section: section{E: e, A: a}, Rod: true}
	f.Members = append(f.Members, m)
	return m
}

// tie adds a bar that goes slack under compression.
func (f *form) tie(id string, i, j int, e, a float64) *member {
	m := f.rod(id, i, j, e, a)
	m.Tension = true
	return m
}

// load adds a load case.
func (f *form) load(id, analysis string) *loadCase {
	c := &loadCase{ID: id, Analysis: analysis}
	f.Cases = append(f.Cases, c)
	return c
}

func (c *loadCase) force(n int, x, y, z float64) *loadCase {
	c.Nodal = append(c.Nodal, nodalLoad{Node: n, F: vec{x, y, z}})
	return c
}

func (c *loadCase) moment(n int, x, y, z float64) *loadCase {
	c.Nodal = append(c.Nodal, nodalLoad{Node: n, M: vec{x, y, z}})
	return c
}

// udl puts a uniform load (global axes) on a whole member.
func (c *loadCase) udl(m string, x, y, z float64) *loadCase {
	c.Line = append(c.Line, lineLoad{Member: m, Q: vec{x, y, z}, Axes: "global"})
	return c
}

// part puts a load from q1 at a to q2 at b (global Z) on a member.
func (c *loadCase) part(m string, a, b, q1, q2 float64) *loadCase {
	c.Line = append(c.Line, lineLoad{Member: m, Q: vec{0, 0, q1}, Axes: "global", From: &a, To: &b, Q2: &vec{0, 0, q2}})
	return c
}

// at puts a force along global Z at a station.
func (c *loadCase) at(m string, a, z float64) *loadCase {
	c.Point = append(c.Point, pointLoad{Member: m, A: a, F: vec{0, 0, z}, Axes: "global"})
	return c
}

// The steel of the suite, and a section much like a 310 UB, a closed one, and one that hardly stretches, for formulas
// that leave out axial deformation.
const (
	steelE = 200e9
	steelG = 80e9
)

var (
	openSection   = section{E: steelE, G: steelG, A: 5.93e-3, Iy: 7.07e-6, Iz: 99.5e-6, J: 89.3e-9, Density: 7850}
	closedSection = section{E: steelE, G: steelG, A: 4.21e-3, Iy: 14.6e-6, Iz: 25.8e-6, J: 29.3e-6, Density: 7850}
)

// planeSection is the open section held against bending out of the plane of a frame.
var planeSection = section{E: steelE, G: steelG, A: 5.93e-3, Iy: 99.5e-4, Iz: 99.5e-6, J: 1e-4, Density: 7850}

// stocky returns s with an area so great that lengths do not change.
func (s section) stocky() section {
	s.A = 1e4 * math.Sqrt(s.Iz)
	return s
}

// withShear returns s with shear areas.
func (s section) withShear(asy, asz float64) section {
	s.Asy, s.Asz = &asy, &asz
	return s
}

// times returns s with its in-plane second moment multiplied.
func (s section) times(f float64) section {
	s.Iz *= f
	return s
}

func (s section) eiz() float64 { return s.E * s.Iz }
func (s section) eiy() float64 { return s.E * s.Iy }
