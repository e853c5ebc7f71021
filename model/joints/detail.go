package joints

import (
	"fmt"
	"math"
	"strings"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// detailCheck is one stated detail as its checks.
type detailCheck interface {
	// check appends the utilisations of joint p under a, each radial, and records the working where w is not nil.
	check(dst []ratio, p *place, a Action, w *checks.Working) []ratio
	// words describe the detail; notDone lists what the checks leave out.
	words() string
	notDone() []string
}

// newDetail makes the checks of a detail. open lists what it would have to state for checks that are left out.
func newDetail(k Kind, d *brief.Detail, p *place, rules *as4100.Rules) (c detailCheck, open []string) {
	b, open := newBolting(d, rules)
	plate := newPlate(d)
	weld, missing := newWelding(d, rules)
	open = append(open, missing...)
	switch d.Kind {
	case "end plate", "cap plate":
		e := endPlate{bolts: b, plate: plate, weld: weld, kind: k, title: d.Kind, rules: rules}
		return &e, append(open, e.open(p)...)
	case "base plate":
		s := basePlate{bolts: b, plate: plate, weld: weld, pad: d.Pad, rules: rules}
		return &s, append(open, s.open(p)...)
	case "rod end":
		r := rodEnd{cleat: cleat{bolts: b, plate: plate, weld: weld, eccentric: float64(d.Eccentricity), along: true, rules: rules}, turnbuckle: d.Turnbuckle}
		if plate.t == 0 {
			open = append(open, "the cleat's plate")
		}
		return &r, open
	}
	l := cleat{bolts: b, plate: plate, weld: weld, eccentric: float64(d.Eccentricity), along: k == StrutEnd || k == WallBraceEnd || k == RoofBraceEnd, rules: rules}
	return &l, open
}

// platework is a plate (m, Pa).
type platework struct{ t, width, depth, fy, fu float64 }

func newPlate(d *brief.Detail) platework {
	p := platework{t: float64(d.Plate.Thickness), width: float64(d.Plate.Width), depth: float64(d.Plate.Depth), fy: float64(d.Plate.Yield)}
	p.fu = tensileOf(p.fy)
	return p
}

// tensileOf is the tensile strength of a plate by its yield: the least of the catalogue's plates of at least that yield,
// and not more than the ratio of the strongest for others.
func tensileOf(fy float64) float64 {
	best := math.Inf(1)
	for _, p := range catalog.Plates() {
		if p.Grade.Fy >= fy-1e5 && p.Grade.Fu < best {
			best = p.Grade.Fu
		}
	}
	if math.IsInf(best, 1) {
		return fy
	}
	return best
}

func (p platework) String() string {
	s := fmt.Sprintf("%g mm plate", p.t*1e3)
	if p.width > 0 && p.depth > 0 {
		s = fmt.Sprintf("%g x %g x %g mm plate", p.depth*1e3, p.width*1e3, p.t*1e3)
	}
	return fmt.Sprintf("%s, fy %.0f MPa", s, p.fy/1e6)
}

// bolting is a rectangular group of bolts; none has no rows.
type bolting struct {
	bolt           as4100.Bolt
	rows, per      int
	pitch, gauge   float64 // m; 0 where not stated
	edge           float64 // m, of the outer bolts
	class          string
	hole           float64
	plateD, plateW float64
	rules          *as4100.Rules
}

// newBolting reads the bolts. Gauge, pitch and edge follow from the plate where they are not stated and it is.
func newBolting(d *brief.Detail, rules *as4100.Rules) (b bolting, open []string) {
	if d.Bolts.Rows == 0 {
		return b, []string{"the bolts"}
	}
	category, _, _ := strings.Cut(d.Bolts.Class, "/")
	bolt, err := rules.NewBolt(float64(d.Bolts.Diameter), category)
	if err != nil {
		return b, []string{"bolts of a size in the table (" + err.Error() + ")"}
	}
	b = bolting{bolt: bolt, rows: d.Bolts.Rows, per: d.Bolts.PerRow, pitch: float64(d.Bolts.Pitch), gauge: float64(d.Bolts.Gauge), edge: float64(d.Bolts.Edge),
		class: d.Bolts.Class, hole: holeOf(bolt.Diameter), plateD: float64(d.Plate.Depth), plateW: float64(d.Plate.Width), rules: rules}
	b.per = max(b.per, 1)
	fill := func(gap *float64, n int, size float64) bool {
		switch {
		case *gap > 0 || n < 2:
		case size > 0 && b.edge > 0:
			*gap = (size - 2*b.edge) / float64(n-1)
		}
		return *gap > 0 || n < 2
	}
	if !fill(&b.pitch, b.rows, b.plateD) {
		open = append(open, "the bolts' pitch (or the plate's depth and the edge distance)")
	}
	if !fill(&b.gauge, b.per, b.plateW) {
		open = append(open, "the bolts' gauge (or the plate's width and the edge distance)")
	}
	if b.edge == 0 && b.plateD > 0 {
		b.edge = (b.plateD - float64(b.rows-1)*b.pitch) / 2
	}
	if b.edge <= b.hole/2 {
		open = append(open, "the bolts' edge distance")
	}
	return b, open
}

// holeOf is the hole of a bolt: 2 mm more up to M24, 3 mm beyond (AS 4100 14.3.5.2; from memory).
func holeOf(d float64) float64 {
	if d <= 0.024+1e-9 {
		return d + 0.002
	}
	return d + 0.003
}

// count is the number of bolts; complete says that their places are known.
func (b *bolting) count() int { return b.rows * b.per }

func (b *bolting) complete() bool {
	return b.count() > 0 && (b.rows < 2 || b.pitch > 0) && (b.per < 2 || b.gauge > 0) && b.edge > b.hole/2
}

func (b *bolting) String() string {
	if b.count() == 0 {
		return "no bolts stated"
	}
	return fmt.Sprintf("%d M%g %s bolts", b.count(), b.bolt.Diameter*1e3, b.class)
}

// row is the distance (m) of row k from the group's middle.
func (b *bolting) row(k int) float64 { return (float64(k) - float64(b.rows-1)/2) * b.pitch }

// shear appends the shear of the bolts and the bearing of plies of thicknesses t (m) under v per bolt (N).
func (b *bolting) shear(dst []ratio, v float64, t, fu float64, w *checks.Working) []ratio {
	capacity := b.rules.PhiBolt() * b.bolt.Shear(1, 0, 0, w)
	dst = append(dst, ratio{"bolts in shear", "AS 4100 9.2.2.1", v / capacity, v, capacity})
	return b.bearing(dst, "ply bearing and tear-out", v, t, fu, w)
}

// bearing appends the bearing of one ply.
func (b *bolting) bearing(dst []ratio, name string, v, t, fu float64, w *checks.Working) []ratio {
	if t == 0 {
		return dst
	}
	capacity := b.rules.PhiPly() * b.bolt.PlyBearing(t, fu, b.clear(), w)
	return append(dst, ratio{name, "AS 4100 9.2.2.4", v / capacity, v, capacity})
}

// clear is ae of 9.2.2.4 (m): from a hole's edge to the ply's edge or the next hole, and half a bolt.
func (b *bolting) clear() float64 {
	ae := b.edge - b.hole/2
	if b.rows > 1 {
		ae = math.Min(ae, b.pitch-b.hole)
	}
	return ae + b.bolt.Diameter/2
}

// welding is the weld of the section or cleat to its plate.
type welding struct {
	butt   bool
	fillet as4100.FilletWeld
	text   string
}

// weldMetal is the metal that is taken, since the brief does not name it: the weakest of the usual ones.
const weldMetal = "E41XX"

func newWelding(d *brief.Detail, rules *as4100.Rules) (welding, []string) {
	q := as4100.WeldQuality(d.Weld.Quality)
	switch {
	case d.Weld.Kind == "butt":
		return welding{butt: true, text: "butt weld " + string(q)}, nil
	case d.Weld.Leg == 0:
		return welding{text: "no weld stated"}, []string{"the weld's leg"}
	}
	f, err := rules.FilletOf(float64(d.Weld.Leg), weldMetal, q)
	if err != nil {
		panic("joints: " + err.Error()) // weldMetal is in the table
	}
	return welding{fillet: f, text: fmt.Sprintf("%g mm fillet %s, metal %s taken", float64(d.Weld.Leg)*1e3, q, weldMetal)}, nil
}

// stated says whether there is a fillet to be checked.
func (w *welding) stated() bool { return w.fillet.Leg > 0 }

// onSection appends the fillet all round a section's end under a: axial force and moments at the extreme fibre, all
// shear on the weld along the webs. The parts of the weld are lines; those of an open section follow its outline.
func (x *welding) onSection(dst []ratio, p *place, a Action, w *checks.Working) []ratio {
	if !x.stated() || p.steel == nil {
		return dst
	}
	l := lineOf(p.steel.Section)
	if l.length == 0 {
		return dst
	}
	f := x.fillet
	f.ThinTube = l.closed && p.steel.Section.Dims.T < thinTube
	normal := math.Abs(a.N)/l.length + math.Abs(a.M)/l.zx + math.Abs(a.S)/l.zy
	along := math.Abs(a.V)/l.web + math.Abs(a.W)/l.flange
	v := f.Capacity(w)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.6.3.10", Symbol: "weld", Formula: "N*/L + M*/Zw along the axis, V* on the webs' weld", Unit: "kN/mm", Value: math.Hypot(normal, along) / 1e6,
			Numbers: fmt.Sprintf("L %.0f mm, Zwx %.0f mm², webs %.0f mm: %.3f and %.3f kN/mm", l.length*1e3, l.zx*1e6, l.web*1e3, normal/1e6, along/1e6)})
	}
	return append(dst, ratio{"weld", "AS 4100 9.6.3.10", as4100.WeldRadial(v, along, 0, normal), math.Hypot(normal, along), v})
}

// thinTube is the wall below which a fillet on a hollow section has the smaller factor (Table 3.4), m.
const thinTube = 0.003

// weldLine is the weld round a section as lines: total length, moduli of the lines (m²), lengths along webs and flanges.
type weldLine struct {
	length, zx, zy, web, flange float64
	closed                      bool
}

// lineOf are the lines of the weld round a section.
func lineOf(s *catalog.Section) weldLine {
	d := s.Dims
	switch s.Family {
	case catalog.RHS, catalog.SHS:
		return weldLine{length: 2 * (d.D + d.B), zx: d.B*d.D + d.D*d.D/3, zy: d.B*d.D + d.B*d.B/3, web: 2 * d.D, flange: 2 * d.B, closed: true}
	case catalog.CHS:
		l := math.Pi * d.D
		return weldLine{length: l, zx: l * d.D / 4, zy: l * d.D / 4, web: l / 2, flange: l / 2, closed: true}
	case catalog.UB, catalog.PFC:
		in := d.D - 2*d.Tf
		outer, inner := d.B, d.B-d.Tw
		ix := 2*outer*math.Pow(d.D/2, 2) + 2*inner*math.Pow(in/2, 2) + 2*math.Pow(in, 3)/12
		iy := 2*math.Pow(outer, 3)/12 + 2*math.Pow(inner, 3)/12
		return weldLine{length: 2*outer + 2*inner + 2*in, zx: ix / (d.D / 2), zy: iy / (d.B / 2), web: 2 * in, flange: 2 * (outer + inner)}
	}
	return weldLine{}
}
