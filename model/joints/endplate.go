package joints

import (
	"fmt"
	"math"

	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// endPlate is a plate across a member's end, bolted to an equal one or, as a cap, to the rafter that it carries.
type endPlate struct {
	bolts bolting
	plate platework
	weld  welding
	kind  Kind
	title string
	rules *as4100.Rules
}

func (e *endPlate) words() string {
	return fmt.Sprintf("%s: %s, %s, %s", e.title, e.plate, &e.bolts, e.weld.text)
}

func (e *endPlate) notDone() []string {
	out := []string{"the other side is taken to have an equal plate",
		"column webs and walls within the joint, stiffeners"}
	if e.kind == PropCap {
		out[0] = "caps that are welded to the rafter: bolts through its lower wall are taken"
	}
	return out
}

// open lists what is missing for a joint that takes moment.
func (e *endPlate) open(p *place) []string {
	if p.rigid() && e.bolts.rows == 1 {
		return []string{"a second row of bolts: one row takes no moment"}
	}
	return nil
}

// reach is how far a bolt stands clear of a member's faces: beyond its depth (outside), else beside its web or wall.
func reach(p *place, y, gauge float64, per int) (clear float64, outside bool) {
	d := p.steel.Section.Dims
	if beyond := math.Abs(y) - d.D/2; beyond > 0 {
		return beyond, true
	}
	side := d.Tw / 2
	if d.Tw == 0 {
		side = d.B / 2
		if d.B == 0 {
			side = d.D / 2 // a tube
		}
	}
	if per < 2 {
		return -side, false // on the middle line: under the web or in the tube
	}
	return gauge/2*innermost(per) - side, false
}

// innermost is the distance of the innermost bolts of a row from its middle, in half gauges.
func innermost(per int) float64 {
	if per%2 == 1 {
		return 2 // the middle bolt is under the web; the next pair counts
	}
	return 1
}

func (e *endPlate) check(dst []ratio, p *place, a Action, w *checks.Working) []ratio {
	if e.bolts.complete() {
		dst = e.bolted(dst, p, a, w)
	}
	dst = e.weld.onSection(dst, p, a, w)
	if p.support != nil && a.N < 0 {
		dst = e.bearing(dst, p, -a.N, w)
	}
	if p.support != nil && a.N > 0 && e.bolts.complete() && tube(p.support.Section) {
		dst = e.pullsOn(dst, p, a.N, w)
	}
	return dst
}

// pullsOn appends the lower wall of a hollow rafter on which the bolts of a cap pull: the patch is their rectangle.
func (e *endPlate) pullsOn(dst []ratio, p *place, n float64, w *checks.Working) []ratio {
	b, s := &e.bolts, p.support.Section
	f := as4100.Face{Width: s.Dims.B, Wall: s.Dims.T, Fy: p.support.Fy, Across: float64(b.per-1)*b.gauge + b.bolt.Diameter, Along: float64(b.rows-1)*b.pitch + b.bolt.Diameter, Rules: e.rules}
	u := f.Radial(n, 0, w)
	return append(dst, ratio{wallCheck, "no clause: yield lines", u, n, n / math.Max(u, 1e-12)})
}

// bearing is the rafter's web or walls over a cap that presses on it.
func (e *endPlate) bearing(dst []ratio, p *place, n float64, w *checks.Working) []ratio {
	length := e.plate.depth
	if length == 0 {
		length = p.steel.Section.Dims.D
	}
	yield, buckle := p.support.Bearing(as4100.BearingLoad{Length: length, EndDistance: math.Inf(1)}, w)
	c := p.support.Phi() * math.Min(yield, buckle)
	if !checks.Defined(c) {
		return dst
	}
	return append(dst, ratio{"rafter's web over the cap", "AS 4100 5.13", n / c, n, c})
}

// bolted checks the bolts in tension with prying and in shear together, the plate's bending, and the ply. The bolts
// beyond mid-depth share M*/z + N*/2 equally (institute's handbook, reported in the notes to 9.1.8), z from their
// centroid to the middle of the far flange; all bolts share the shear. Without moment all share the tension.
func (e *endPlate) bolted(dst []ratio, p *place, a Action, w *checks.Working) []ratio {
	b := &e.bolts
	v := math.Hypot(a.V, a.W) / float64(b.count())
	t := e.tension(p, a, w)
	first, hot, wall := 0, 0.0, math.Inf(1)
	if a.M != 0 && b.rows > 1 {
		first = (b.rows + 1) / 2
	}
	var stub as4100.TeeStub
	for k := first; k < b.rows; k++ {
		s, clear := e.stub(p, b.row(k))
		wall = math.Min(wall, e.besideBolt(p, b.row(k)))
		if need := minimumClear(b.bolt.Diameter, e.weld.fillet.Leg); k == first || need/math.Max(clear, 1e-4) > hot {
			hot, stub = need/math.Max(clear, 1e-4), s
		}
	}
	dst = append(dst, ratio{"bolts reachable", "site practice", reachable(hot), 0, 0})
	if stub.ToWeb <= stub.Hole/2 { // under the web or inside the tube: nothing that can be worked
		return dst
	}
	u, plate := e.prying(stub, v, t, w)
	dst = append(dst, ratio{"bolts in tension with prying, and shear", "AS 4100 9.2.2.3, 9.1.8", u, t, e.rules.PhiBolt() * b.bolt.Tension(nil)})
	dst = append(dst, ratio{"plate in bending", "AS 4100 9.1.8", plate, t, 0})
	if w != nil && t > 0 {
		w.Add(checks.Step{Clause: "no clause: spread at 45°", Symbol: "u, wall beside a bolt", Formula: "Ntf* per bolt over phi fy t x min(2 (clear distance + plate), gauge or pitch)", Mark: checks.MarkOwnRule, Value: t / wall, Unit: "-",
			Numbers: fmt.Sprintf("%.4g/%.4g kN", checks.KN(t), checks.KN(wall))})
	}
	dst = append(dst, ratio{"section's wall beside the bolts", "no clause: spread at 45°", t / wall, t, wall})
	return b.bearing(dst, "ply bearing and tear-out", v, e.plate.t, e.plate.fu, w)
}

// tension is the greatest tension per bolt (N), without prying.
func (e *endPlate) tension(p *place, a Action, w *checks.Working) float64 {
	b := &e.bolts
	if a.M == 0 || b.rows < 2 {
		return math.Max(0, a.N/float64(b.count()))
	}
	far := p.steel.Section.Dims.D/2 - math.Max(p.steel.Section.Dims.Tf, p.steel.Section.Dims.T)/2
	centroid, rows := 0.0, 0
	for k := (b.rows + 1) / 2; k < b.rows; k++ {
		centroid += b.row(k)
		rows++
	}
	z := centroid/float64(rows) + far
	t := math.Max(0, (math.Abs(a.M)/z+a.N/2)/float64(rows*b.per))
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.1.8 (handbook)", Symbol: "Ntf* per bolt", Formula: "(M*/z + N*/2)/nt", Value: checks.KN(t), Unit: "kN", Mark: checks.MarkSeen,
			Numbers: fmt.Sprintf("(%.4g/%.4g + %.4g/2)/%d", checks.KNm(math.Abs(a.M)), z, checks.KN(a.N), rows*b.per)})
	}
	return t
}

// besideBolt is the design tension (N) of the section's wall, flange or web beside one bolt of the row at y: it spreads at 45
// degrees through plate and clear distance, as far as the next bolt's.
func (e *endPlate) besideBolt(p *place, y float64) float64 {
	b, d := &e.bolts, p.steel.Section.Dims
	clear, outside := reach(p, y, b.gauge, b.per)
	thick, next := d.T, b.pitch
	if d.Tw > 0 {
		thick = d.Tw
	}
	if outside {
		next = b.gauge
		if d.Tf > 0 {
			thick = d.Tf
		}
	}
	width := 2 * (math.Max(clear, 0) + e.plate.t)
	if next > 0 {
		width = math.Min(width, next)
	}
	return p.steel.Phi() * p.steel.Fy * thick * width
}

// longestTip bounds the lever of prying forces: a longer tip does not stay flat against the other plate.
const longestTip = 1.25

// stub is the plate beside one bolt of the row at y, as half a tee, and the bolt's clear distance from the steel.
func (e *endPlate) stub(p *place, y float64) (as4100.TeeStub, float64) {
	b := &e.bolts
	clear, outside := reach(p, y, b.gauge, b.per)
	tip, width := b.edge, b.pitch
	if outside {
		width = b.gauge
		if e.plate.width > 0 {
			width = e.plate.width / float64(b.per)
		}
	} else if e.plate.width > 0 {
		tip = (e.plate.width - float64(b.per-1)*b.gauge) / 2
	}
	if width == 0 {
		width = 2 * clear
	}
	return as4100.TeeStub{Plate: e.plate.t, Width: math.Min(width, 2*clear), Hole: b.hole, ToTip: math.Min(tip, longestTip*clear), ToWeb: clear, Fy: e.plate.fy, Rules: e.rules}, clear
}

// minimumClear is the distance from a bolt to the face of the steel that a spanner needs: a socket's half width, 1.1
// diameters, beside the weld (site practice).
func minimumClear(d, leg float64) float64 { return 1.1*d + leg }

// reachable turns need over clear distance into a rule's utilisation; bolts inside the steel are as bad as twice too near.
func reachable(q float64) float64 { return math.Min(q, 2) }

// prying gives the radial utilisations of the bolts and of the plate for v and t per bolt (N). A pair across the web is
// two bolts. The plate's limit is that with full prying; the bolts' that with the prying which the plate then needs.
func (e *endPlate) prying(s as4100.TeeStub, v, t float64, w *checks.Working) (bolt, plate float64) {
	if s.Width <= s.Hole {
		return 2, 2 // no plate is left beside the hole
	}
	at := func(scale float64) float64 {
		s.Tension = 2 * t * scale
		q, _, _ := s.Prying(nil)
		return e.bolts.bolt.Radial(v*scale, q, nil)
	}
	bolt = radial(at)
	const many = 1e6 // beyond any plate: full prying
	s.Tension = 2 * t * many
	_, plate, _ = s.Prying(nil)
	plate /= many
	if w != nil {
		s.Tension = 2 * t
		q, _, _ := s.Prying(w)
		e.bolts.bolt.Radial(v, q, w)
		w.Add(checks.Step{Clause: "AS 4100 9.2.2.3", Symbol: "u, bolts", Formula: "actions divided by it meet the limit, with the prying they then have", Value: bolt, Unit: "-"})
		w.Add(checks.Step{Clause: "AS 4100 9.1.8", Symbol: "u, plate", Formula: "M1* at alpha = 1 over phi Ms", Value: plate, Unit: "-"})
	}
	return bolt, plate
}

// radial is the factor u by which actions are divided to land on the limit surface, where at(s) is the ratio under s
// times the actions: it rises with s, at least in proportion to at for small s.
func radial(at func(s float64) float64) float64 {
	if at(1) == 0 {
		return 0
	}
	lo, hi := 0.0, 1.0
	for at(hi) < 1 {
		lo, hi = hi, 2*hi
	}
	for range 60 {
		if mid := (lo + hi) / 2; at(mid) < 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return 1 / hi
}

// rigid says whether the frame's analysis takes the joint as rigid.
func (p *place) rigid() bool {
	k := kinds[p.kind].kind
	return k == Eaves || k == Ridge
}

// fullStrength holds an assumed full-strength joint to the section of the member that meets in it (AS 4100 8.3.4, the
// linear form, which is radial).
func (p *place) fullStrength(dst []ratio, a Action, w *checks.Working) []ratio {
	c := p.steel
	phi := c.Phi()
	n := phi * c.Tension(c.Rules.DefaultKt(c.Section.Family), nil)
	if a.N < 0 {
		n = phi * c.Ns
	}
	m, s := phi*c.Msx, phi*c.Msy()
	u := math.Abs(a.N)/n + math.Abs(a.M)/m
	if a.S != 0 && checks.Defined(s) {
		u += math.Abs(a.S) / s
	}
	if !checks.Defined(u) { // the section's bending is outside the code's rules: as bad as twice too weak
		u = 2
	}
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 8.3.4", Symbol: "u", Formula: "N*/(phi N) + Mx*/(phi Msx) + My*/(phi Msy), the section at the joint", Value: u, Unit: "-",
			Numbers: fmt.Sprintf("%.4g/%.4g + %.4g/%.4g + %.4g/%.4g", checks.KN(math.Abs(a.N)), checks.KN(n), checks.KNm(math.Abs(a.M)), checks.KNm(m), checks.KNm(math.Abs(a.S)), checks.KNm(s))})
	}
	return append(dst, ratio{"section at the joint", "AS 4100 8.3.4", u, math.Abs(a.M), m})
}
