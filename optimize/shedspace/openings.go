package shedspace

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// jambReach is how near a column or mullion may stand to an opening's edge and be its jamb (m): the width of a guide and
// its packing.
const jambReach = 0.250

// wideDoor is the width (m) from which a door's jambs run up to the eaves or the rafter; those of personnel doors and
// windows end on the next girts (usual framing).
const wideDoor = 1.5

// trimmer is one jamb, lintel or sill to be designed.
type trimmer struct {
	name   string
	wide   bool // of a wide door
	need   asnzs4600.Need
	weight float64 // N/m, permanent load across a lintel in the wall's plane, own weight not included
	limit  float64 // span/limit is what that may bow
}

// framing are the jambs and lintels of all openings for one girt spacing.
type framing struct{ jambs, lintels []trimmer }

// framings lists what frames the openings of the clad faces. A jamb carries half the opening and half the wall to the next
// column or mullion over its whole height, from the floor (or the girt below a window) to the next girt over the head, or
// to the wall's top at wide doors; the girts that end on it hold it in the wall's plane. A lintel (and a window's sill)
// carries half the wall to the next girt, and half the opening unless a roller door spans to its jambs. Wind is the
// worst of its strip with local factors, the door shut. Lock pull bends the jambs in
// the wall's plane and presses on the lintel between them.
func (p *Problem) framings(b *bench, girt, wind float64) (framing, error) {
	var out framing
	lines := map[actions.Face][]float64{}
	for _, s := range p.Shed.GirtSpans(girt) {
		if !slices.Contains(lines[s.Face], s.V) {
			lines[s.Face] = append(lines[s.Face], s.V)
		}
	}
	for i := range p.Shed.Building.Openings {
		o := &p.Shed.Building.Openings[i]
		vs := lines[o.Face]
		if len(vs) == 0 {
			continue // an open face
		}
		slices.Sort(vs)
		f := &framer{p: p, b: b, o: o, kind: p.Brief.Openings[i].Kind, girts: vs, wind: wind, out: &out}
		for side, u := range [2]float64{o.U0, o.U1} {
			if err := f.jamb(side, u); err != nil {
				return out, err
			}
		}
		if err := f.lintels(); err != nil {
			return out, err
		}
	}
	return out, nil
}

// framer works one opening.
type framer struct {
	p     *Problem
	b     *bench
	o     *actions.Opening
	kind  brief.OpeningKind
	girts []float64
	wind  float64 // as in spacings
	out   *framing
}

// uprights are the columns and mullions of the opening's face.
func (f *framer) uprights() []float64 {
	s := f.p.Shed
	switch f.o.Face {
	case actions.WestGable:
		return append([]float64{0, s.Span}, s.Mullions[0]...)
	case actions.EastGable:
		return append([]float64{0, s.Span}, s.Mullions[1]...)
	}
	return s.Frames
}

// top is the height of the wall at u.
func (f *framer) top(u float64) float64 {
	s := f.p.Shed
	switch f.o.Face {
	case actions.SouthWall:
		return s.EavesA
	case actions.NorthWall:
		return s.EavesB
	}
	return s.RoofZ(u)
}

// below and above are the girt lines next to a height, or the floor and the wall's top.
func (f *framer) below(z float64) float64 {
	best := 0.0
	for _, v := range f.girts {
		if v <= z {
			best = math.Max(best, v)
		}
	}
	return best
}

func (f *framer) above(z, top float64) float64 {
	for _, v := range f.girts {
		if v > z && v < top {
			return v
		}
	}
	return top
}

// jamb adds the jamb at u (side 0: the lower edge) unless an upright stands there.
func (f *framer) jamb(side int, u float64) error {
	next := math.Inf(1)
	for _, x := range f.uprights() {
		if math.Abs(x-u) <= jambReach {
			return nil
		}
		if side == 0 && x < u || side == 1 && x > u {
			next = math.Min(next, math.Abs(x-u))
		}
	}
	if math.IsInf(next, 1) {
		next = jambReach // a corner's jamb: the wall ends here
	}
	wide := f.wide()
	from, to := 0.0, f.top(u)
	if f.o.V0 > 0 {
		from = f.below(f.o.V0)
	}
	if !wide {
		to = f.above(f.o.V1, to)
	}
	lo, hi := u-next/2, (f.o.U0+f.o.U1)/2
	if side == 1 {
		lo, hi = hi, u+next/2
	}
	n, err := f.need("jamb", to-from, shed.SecondarySpan{Face: f.o.Face, V: (from + to) / 2, U0: lo, U1: hi, Width: to - from, Length: hi - lo})
	if err != nil {
		return err
	}
	n.Spacing = hi - lo
	n.OwnMost, n.OwnLeast = 1e-9, 1e-9 // its own weight runs down it
	n.Along = f.o.LockPull / n.Spacing
	n.Bridging = f.heldBy(from, to)
	n.Strut = permanentStrength * f.p.Shed.Building.WallDead * (f.o.U1 - f.o.U0) / 2 * (f.above(f.o.V1, f.top(u)) - f.o.V1)
	n.Deflect = float64(f.p.Brief.Limits.Jamb)
	f.out.jambs = append(f.out.jambs, trimmer{name: fmt.Sprintf("jamb of %s", f.o.Name), wide: wide, need: n})
	return nil
}

// wide says whether the opening is a wide door.
func (f *framer) wide() bool { return f.o.Door && f.o.U1-f.o.U0 > wideDoor }

// heldBy is the number of equal lengths, less one, that are nowhere shorter than the greatest distance between girts along
// a jamb.
func (f *framer) heldBy(from, to float64) int {
	gap, last := 0.0, from
	for _, v := range f.girts {
		if v > from+1e-6 && v < to-1e-6 {
			gap, last = math.Max(gap, v-last), v
		}
	}
	gap = math.Max(gap, to-last)
	return max(0, int((to-from)/gap+1e-9)-1)
}

// lintels adds the member over the opening, and a window's sill.
func (f *framer) lintels() error {
	o := f.o
	mid := (o.U0 + o.U1) / 2
	top := f.above(o.V1, f.top(mid))
	half := (o.V1 - o.V0) / 2
	if f.kind == brief.RollerDoor {
		half = 0
	}
	if err := f.lintel("lintel", o.V1-half, (o.V1+top)/2, top-o.V1); err != nil {
		return err
	}
	if o.V0 > 0 {
		return f.lintel("sill", (o.V0+f.below(o.V0))/2, o.V0+half, 0)
	}
	return nil
}

// lintel adds one that carries the strip between two heights, and the cladding of a height that hangs on it.
func (f *framer) lintel(what string, from, to, cladding float64) error {
	o := f.o
	if to-from < 0.05 { // the head is at a girt or at the wall's top: that one is the lintel
		return nil
	}
	n, err := f.need("lintel", o.U1-o.U0, shed.SecondarySpan{Face: o.Face, V: (from + to) / 2, U0: o.U0, U1: o.U1, Width: to - from, Length: o.U1 - o.U0})
	if err != nil {
		return err
	}
	n.Spacing = to - from
	weight := f.p.Shed.Building.WallDead * cladding
	n.Along = permanentStrength * weight / n.Spacing
	n.Strut = o.LockPull * (o.V1 - o.V0) / 2 // the jambs pull towards each other
	n.Deflect = float64(f.p.Brief.Limits.DoorHead)
	f.out.lintels = append(f.out.lintels, trimmer{fmt.Sprintf("%s of %s", what, o.Name), f.wide(), n, weight, n.Deflect})
	return nil
}

// need is a simple span upright or across, with the worst wind of its strip all along it.
func (f *framer) need(role string, span float64, strip shed.SecondarySpan) (asnzs4600.Need, error) {
	w, err := f.p.windOn(f.b, []shed.SecondarySpan{strip}, f.wind)
	if err != nil {
		return asnzs4600.Need{}, err
	}
	return asnzs4600.Need{
		Role: role, Span: span, Spans: 1, Slope: math.Pi / 2,
		Inward: math.Max(w.in, w.edgeIn), Outward: math.Max(w.out, w.edgeOut), ServiceIn: w.serviceIn, ServiceOut: w.serviceOut,
	}, nil
}

// addFraming adds the jambs and lintels of a girt spacing and a wind to out; those that the table chooses are worked once for
// each.
func (p *Problem) addFraming(b *bench, sp spacings, keep bool, out *Secondaries) error {
	sp.purlin = 0
	done := b.framed[sp]
	if done == nil || keep {
		done = &Secondaries{}
		if err := p.chooseFraming(b, sp, keep, done); err != nil {
			return err
		}
		if !keep {
			b.framed[sp] = done
		}
	}
	out.Results = append(out.Results, done.Results...)
	out.trimmers = done.trimmers
	to, from := &out.Sections, &done.Sections
	to.Jamb, to.Lintel, to.JambMass, to.LintelMass = from.Jamb, from.Lintel, from.JambMass, from.LintelMass
	return nil
}

// chooseFraming finds the sections of jambs and of lintels, for wide doors and for the other openings: the lightest that
// passes everywhere, else the lightest that does so as a pair, back to back, that share the load; where the proposal draws
// one and keep is set, that one is checked.
func (p *Problem) chooseFraming(b *bench, sp spacings, keep bool, out *Secondaries) error {
	f, err := p.framings(b, sp.girt, sp.wind)
	if err != nil {
		return err
	}
	out.trimmers = map[trimmerKind]trimmerSteel{}
	for _, one := range []struct {
		group brief.Group
		list  []trimmer
		into  **catalog.Section
		kg    *float64
	}{
		{brief.GroupJamb, f.jambs, &out.Sections.Jamb, &out.Sections.JambMass},
		{brief.GroupLintel, f.lintels, &out.Sections.Lintel, &out.Sections.LintelMass},
	} {
		for _, wide := range []bool{true, false} {
			var list []trimmer
			for _, t := range one.list {
				if t.wide == wide {
					list = append(list, t)
				}
			}
			if len(list) == 0 {
				continue
			}
			c, err := p.lightestTrimmer(b, one.group, list, keep)
			if err != nil {
				return fmt.Errorf("%s: %w", one.group, err)
			}
			out.trimmers[trimmerKind{one.group, wide}] = trimmerSteel{c.steel, c.pieces}
			for _, t := range list {
				*one.kg += t.need.Span * float64(c.pieces) * c.steel.Section.Props.Mass
			}
			if *one.into == nil || c.steel.Section.Props.Mass > (*one.into).Props.Mass {
				*one.into = c.steel.Section
			}
			out.Results = append(out.Results, SecondaryResult{Group: string(one.group), Member: c.String() + forWind(sp.wind), Need: c.worst.need, Result: c.result})
		}
	}
	return nil
}

// chosenTrimmer is a section for a list of trimmers, with the worst of them.
type chosenTrimmer struct {
	steel  shed.Steel
	pieces int
	worst  trimmer
	result checks.Result
}

// String says what was chosen and where it is worst.
func (c *chosenTrimmer) String() string {
	text := fmt.Sprintf("%s, %s, span %.2f m", c.steel.Section.Name, c.worst.name, c.worst.need.Span)
	if c.pieces > 1 {
		text = fmt.Sprintf("%d x %s", c.pieces, text)
	}
	return text
}

// trimmerKind is jambs or lintels, of wide doors or of the other openings; trimmerSteel is what they are made of.
type trimmerKind struct {
	group brief.Group
	wide  bool
}

type trimmerSteel struct {
	steel  shed.Steel
	pieces int
}

// lightestTrimmer takes what is there already, or tries single sections, then pairs, from the lightest. What is hopeless is
// worked only if nothing passes and the best of those that fail is wanted.
func (p *Problem) lightestTrimmer(b *bench, g brief.Group, list []trimmer, keep bool) (chosenTrimmer, error) {
	if t, ok := p.trimmers[trimmerKind{g, list[0].wide}]; ok {
		return b.trimmed(p.Brief, g, t.steel, t.pieces, list)
	}
	if c := p.Drawn.Of(g); keep && c.Section != nil {
		return b.trimmed(p.Brief, g, c, 1, list)
	}
	stock := p.trimmerStock(g)
	tried := make([]*chosenTrimmer, 2*len(stock))
	for i := range tried {
		s, pieces := stock[i%len(stock)], 1+i/len(stock)
		if hopeless, err := b.hopelessTrimmer(s, pieces, list); err != nil {
			return chosenTrimmer{}, err
		} else if hopeless {
			continue
		}
		c, err := b.trimmed(p.Brief, g, s, pieces, list)
		if err != nil || c.result.Utilisation <= 1 {
			return c, err
		}
		tried[i] = &c
	}
	var best chosenTrimmer
	for i, c := range tried {
		if c == nil {
			worked, err := b.trimmed(p.Brief, g, stock[i%len(stock)], 1+i/len(stock), list)
			if err != nil {
				return worked, err
			}
			c = &worked
		}
		if best.steel.Section == nil || c.result.Utilisation < best.result.Utilisation {
			best = *c
		}
	}
	if best.steel.Section == nil {
		return best, errors.New("freedoms.stock: nothing in the stock; name a section or a family")
	}
	return best, nil
}

// hopelessTrimmer tells whether a lipped section fails one of a list without local and distortional buckling already.
func (b *bench) hopelessTrimmer(s shed.Steel, pieces int, list []trimmer) (bool, error) {
	if s.Section.Family != catalog.C && s.Section.Family != catalog.Z {
		return false, nil
	}
	for _, t := range list {
		if hopeless, err := b.coldFormed.Hopeless(t.shared(pieces), s.Section); hopeless || err != nil {
			return hopeless, err
		}
	}
	return false, nil
}

// shared is the need of one of so many pieces that share the load.
func (t *trimmer) shared(pieces int) asnzs4600.Need {
	n := t.need
	n.Spacing /= float64(pieces)
	n.Strut /= float64(pieces)
	return n
}

// trimmerStock is what jambs or lintels may be made of, by mass, then name: the brief's sections or families, else
// lipped channels.
func (p *Problem) trimmerStock(g brief.Group) []shed.Steel {
	rule := p.Brief.Freedoms.Stock[g]
	var list []*catalog.Section
	for _, n := range rule.Sections {
		if s, err := p.Brief.Library().Find(n); err == nil {
			list = append(list, s)
		}
	}
	families := rule.Families
	if len(families) == 0 {
		families = []string{"C"}
	}
	for _, fam := range families {
		if len(rule.Sections) == 0 {
			list = append(list, p.Brief.Library().ByFamily(catalog.Family(fam))...)
		}
	}
	var out []shed.Steel
	for _, s := range list {
		if len(s.Grades) > 0 && s.Family != catalog.Rod {
			out = append(out, shed.Steel{Section: s, Grade: s.Grades[0]})
		}
	}
	slices.SortStableFunc(out, func(x, y shed.Steel) int {
		if d := sign(x.Section.Props.Mass - y.Section.Props.Mass); d != 0 {
			return d
		}
		return map[bool]int{true: -1, false: 1}[x.Section.Name < y.Section.Name]
	})
	return out
}

// trimmed checks one section, single or in pairs, against a list and stops at what is clearly too much.
func (b *bench) trimmed(br *brief.Brief, g brief.Group, s shed.Steel, pieces int, list []trimmer) (chosenTrimmer, error) {
	out := chosenTrimmer{steel: s, pieces: pieces}
	for _, t := range list {
		r, err := b.trim(br, g, s, t.shared(pieces))
		if err != nil {
			return out, err
		}
		if sag := t.sag(s.Section, pieces); sag.Utilisation > r.Utilisation {
			r = sag
		}
		if r.Utilisation > out.result.Utilisation || out.worst.name == "" {
			out.worst, out.result = t, r
		}
	}
	return out, nil
}

// sag is a lintel's bow in the wall's plane under permanent load, about its minor axis.
func (t *trimmer) sag(s *catalog.Section, pieces int) checks.Result {
	if t.limit == 0 {
		return checks.Result{}
	}
	q := t.weight/float64(pieces) + s.Props.Mass*asnzs4600.Gravity
	l := t.need.Span
	d := 5 * q * math.Pow(l, 4) / (384 * steelE * s.Props.Iy)
	u := checks.Deflection(l/t.limit, d)
	return checks.Result{Name: "sag under permanent load", Clause: "AS/NZS 1170.0 Table C1, brief", Utilisation: u, Raw: u, Station: l / 2, Combination: -1, Demand: d, Capacity: l / t.limit}
}

// trim checks one section for one need: lipped channels and zeds by AS/NZS 4600, others by AS 4100.
func (b *bench) trim(br *brief.Brief, g brief.Group, s shed.Steel, n asnzs4600.Need) (checks.Result, error) {
	if s.Section.Family == catalog.C || s.Section.Family == catalog.Z {
		r, err := b.secondary(br, g, n, brief.Lines{}, s.Section)
		if err != nil {
			return checks.Result{}, err
		}
		return r.Governing, nil
	}
	c, err := b.rules.New(s.Section, s.Grade)
	if err != nil {
		return checks.Result{}, err
	}
	return hotTrimmer(c, n), nil
}

// hotTrimmer checks a hollow or hot-rolled section as a simple span: bending about both axes and compression by the
// linear form of AS 4100 8.3.4 with member capacities (alpha_m = 1), shear, and bow. All are proportional to load.
func hotTrimmer(c *as4100.Capacity, n asnzs4600.Need) checks.Result {
	l := n.Span
	seg := l / float64(n.Bridging+1)
	q := math.Max(n.Inward, n.Outward) * n.Spacing
	m, my := q*l*l/8, n.Along*n.Spacing*seg*seg/8
	nc := math.Min(c.Nc(as4100.X, l, nil), c.Nc(as4100.Y, seg, nil))
	phi := c.Phi()
	mb := phi * c.Mb(seg, 1, nil)
	u := m/mb + my/(phi*c.Msy()) + n.Strut/(phi*nc)
	if !checks.Defined(u) {
		u = outsideRules
	}
	out := checks.Result{Name: "bending and axial force", Clause: "AS 4100 8.3.4, 8.4 (linear)", Utilisation: u, Raw: u, Station: l / 2, Combination: -1, Demand: m, Capacity: mb}
	if v := q * l / 2 / (phi * c.Vvx); v > out.Utilisation {
		out = checks.Result{Name: "shear", Clause: "AS 4100 5.11", Utilisation: v, Raw: v, Combination: -1, Demand: q * l / 2, Capacity: phi * c.Vvx}
	}
	d := 5 * math.Max(n.ServiceIn, n.ServiceOut) * n.Spacing * math.Pow(l, 4) / (384 * steelE * c.Section.Props.Ix)
	if w := checks.Deflection(l/n.Deflect, d); w > out.Utilisation {
		out = checks.Result{Name: "deflection", Clause: "AS/NZS 1170.0 Table C1, brief", Utilisation: w, Raw: w, Station: l / 2, Combination: -1, Demand: d, Capacity: l / n.Deflect}
	}
	return out
}
