package joints

import (
	"fmt"
	"math"

	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// cleat is a plate welded to one member and bolted to the other. along says that its force runs along the member, as at
// a brace; else it is the shear of a beam. The brief's eccentricity turns that force into a moment on the bolts, the
// plate and the weld.
type cleat struct {
	bolts     bolting
	plate     platework
	weld      welding
	eccentric float64
	along     bool
	rules     *as4100.Rules
}

func (c *cleat) words() string {
	return fmt.Sprintf("cleat: %s, %s, %s", c.plate, &c.bolts, c.weld.text)
}

func (c *cleat) notDone() []string {
	return []string{"buckling of the cleat in compression", "block shear of coped ends", "cleats square to the member that they are welded to: they are taken to lie along it"}
}

// moment is the moment (N·m) of the eccentricity.
func (c *cleat) moment(a Action) float64 {
	if c.along {
		return math.Abs(a.N) * c.eccentric
	}
	return math.Abs(a.V) * c.eccentric
}

func (c *cleat) check(dst []ratio, p *place, a Action, w *checks.Working) []ratio {
	m := c.moment(a)
	if c.bolts.complete() {
		f := c.bolts.vector(math.Abs(a.N), math.Hypot(a.V, a.W), m, w)
		dst = c.bolts.shear(dst, f, c.plate.t, c.plate.fu, w)
		if p.steel != nil && p.steel.Section.Dims.Tw > 0 {
			dst = c.bolts.bearing(dst, "bearing of the member's web", f, p.steel.Section.Dims.Tw, p.steel.Fu, w)
		}
	}
	if c.plate.depth > 0 && c.plate.t > 0 {
		dst = c.steel(dst, a, m, w)
		dst = c.welded(dst, a, m, w)
		dst = c.wall(dst, p, a, m, w)
	}
	return dst
}

// wall appends the wall of the hollow section that the cleat is welded to along its length: the force square to it, and the
// moment of the eccentricity.
func (c *cleat) wall(dst []ratio, p *place, a Action, m float64, w *checks.Working) []ratio {
	if p.face.width == 0 {
		return dst
	}
	f := as4100.Face{Width: p.face.width, Wall: p.face.wall, Fy: p.face.fy, Across: c.plate.t, Along: c.plate.depth, Rules: c.rules}
	n := math.Abs(a.N) * p.face.square
	u := f.Radial(n, m, w)
	return append(dst, ratio{wallCheck, "no clause: yield lines", u, n, n / math.Max(u, 1e-12)})
}

// wallCheck is the name of the check of a hollow section's wall.
const wallCheck = "wall of the hollow section, bending"

// vector is the greatest force on a bolt (N) under n along the member, v along the rows and m in the group's plane:
// elastic, by distance from the group's middle. One bolt takes no moment: the plate beyond it does.
func (b *bolting) vector(n, v, m float64, w *checks.Working) float64 {
	ip, y := 0.0, float64(b.rows-1)/2*b.pitch
	x := float64(b.per-1) / 2 * b.gauge
	for k := range b.rows {
		for i := range b.per {
			ip += math.Pow(b.row(k), 2) + math.Pow((float64(i)-float64(b.per-1)/2)*b.gauge, 2)
		}
	}
	count := float64(b.count())
	fx, fy := n/count, v/count
	if ip > 0 {
		fx, fy = fx+m*y/ip, fy+m*x/ip
	}
	f := math.Hypot(fx, fy)
	if w != nil {
		w.Add(checks.Step{Clause: "bolt group, elastic", Symbol: "V* per bolt", Formula: "hypot(N*/n + M* y/Ip, V*/n + M* x/Ip)", Value: checks.KN(f), Unit: "kN",
			Numbers: fmt.Sprintf("n %d, Ip %.0f mm², N* %.4g kN, V* %.4g kN, M* %.4g kN·m", b.count(), ip*1e6, checks.KN(n), checks.KN(v), checks.KNm(m))})
	}
	return f
}

// steel appends the plate: gross and net section under axial force with bending, and shear (AS 4100 7.2, 5.2, 5.11, with
// 0.6 fy over the whole depth; elastic bending).
func (c *cleat) steel(dst []ratio, a Action, m float64, w *checks.Working) []ratio {
	phi, d, t := c.rules.Phi(), c.plate.depth, c.plate.t
	if c.along && c.plate.width > 0 {
		d = math.Min(d, c.plate.width)
	}
	gross := phi * c.plate.fy * d * t
	if n := c.bolts.rows; n > 0 && a.N > 0 {
		if c.along {
			n = c.bolts.per
		}
		gross = math.Min(gross, phi*0.85*c.plate.fu*(d-float64(n)*c.bolts.hole)*t)
	}
	bend := phi * c.plate.fy * t * d * d / 6
	shear := phi * 0.6 * c.plate.fy * d * t
	v := math.Hypot(a.V, a.W)
	if gross <= 0 { // the holes leave nothing
		return append(dst, ratio{"cleat's net section", "AS 4100 7.2", 2, math.Abs(a.N), 0})
	}
	u := math.Abs(a.N)/gross + m/bend
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 7.2, 5.2", Symbol: "u, plate", Formula: "N*/(phi min(Ag fy, 0.85 An fu)) + M*/(phi fy t d²/6)", Value: u, Unit: "-",
			Numbers: fmt.Sprintf("%.4g/%.4g + %.4g/%.4g", checks.KN(math.Abs(a.N)), checks.KN(gross), checks.KNm(m), checks.KNm(bend))})
		w.Add(checks.Step{Clause: "AS 4100 5.11", Symbol: "u, plate in shear", Formula: "V*/(phi 0.6 fy d t)", Value: v / shear, Unit: "-",
			Numbers: fmt.Sprintf("%.4g/%.4g", checks.KN(v), checks.KN(shear))})
	}
	return append(dst, ratio{"cleat in tension and bending", "AS 4100 7.2, 5.2", u, math.Abs(a.N), gross}, ratio{"cleat in shear", "AS 4100 5.11", v / shear, v, shear})
}

// welded appends the cleat's two fillets along its depth.
func (c *cleat) welded(dst []ratio, a Action, m float64, w *checks.Working) []ratio {
	if !c.weld.stated() {
		return dst
	}
	d := c.plate.depth
	normal := math.Abs(a.N)/(2*d) + m/(d*d/3)
	along := math.Hypot(a.V, a.W) / (2 * d)
	v := c.weld.fillet.Capacity(w)
	u := as4100.WeldRadial(v, along, 0, normal)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.6.3.10", Symbol: "u, weld", Formula: "hypot(N*/2d + 3M*/d², V*/2d) over phi vw, two fillets", Value: u, Unit: "-",
			Numbers: fmt.Sprintf("d %.0f mm: %.3f and %.3f of %.3f kN/mm", d*1e3, normal/1e6, along/1e6, v/1e6)})
	}
	return append(dst, ratio{"weld", "AS 4100 9.6.3.10", u, math.Hypot(normal, along), v})
}

// rodEnd is a threaded rod through or in a fork at a cleat.
type rodEnd struct {
	cleat
	turnbuckle bool
}

func (r *rodEnd) words() string {
	s := fmt.Sprintf("rod end: cleat %s, %s, %s", r.plate, &r.bolts, r.weld.text)
	if r.turnbuckle {
		s += ", turnbuckle"
	}
	return s
}

func (r *rodEnd) notDone() []string {
	out := append([]string{"the fork or eye between rod and bolt"}, r.cleat.notDone()...)
	if r.turnbuckle {
		out = append([]string{"the turnbuckle itself: one whose rated load is the rod's capacity"}, out...)
	}
	return out
}

func (r *rodEnd) check(dst []ratio, p *place, a Action, w *checks.Working) []ratio {
	if p.steel != nil && a.N > 0 {
		c := p.steel.Phi() * p.steel.Tension(1, w)
		dst = append(dst, ratio{"thread in tension", "AS 4100 7.2, 9.2.2.2", a.N / c, a.N, c})
	}
	return r.cleat.check(dst, p, a, w)
}
