package asnzs1170

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"leanbay/model/actions"
)

// Options are the choices that are the engineer's, not the code's.
type Options struct {
	// CombinationFactor switches on Kc for the frames' cases (Table 5.5). It is off by default: a search exploits a
	// blanket reduction.
	CombinationFactor bool
	// KeepAll keeps the wind combinations that are left out by default (see Pack.LeftOut).
	KeepAll bool
	// AnyOrientation takes the largest site speed for every wall: a product that may be turned on its site.
	AnyOrientation bool
	// Period is the first natural period along X and along Y in seconds, where an analysis gives it; 0 takes the code's
	// formula. The base shear does not fall below the code's share of that by formula.
	Period [2]float64
}

// Pack is the actions pack of the AS/NZS 1170 series. Make it with New; it is not changed by use and may be shared.
type Pack struct {
	t         *Table
	overrides *Overrides
	opt       Options
}

var _ actions.Pack = (*Pack)(nil)

// New returns the pack with the certifier's overrides (nil for none).
func New(o *Overrides, opt Options) *Pack { return &Pack{t: NewTable(o), overrides: o, opt: opt} }

// Table returns the coefficients in force.
func (p *Pack) Table() *Table { return p.t }

// Overrides returns the certifier's overrides, nil for none.
func (p *Pack) Overrides() *Overrides { return p.overrides }

// Name implements actions.Pack.
func (p *Pack) Name() string {
	return "AS/NZS 1170.0:2002, 1170.1:2002, 1170.2:2021, 1170.3:2003, AS 1170.4:2007"
}

// NotCovered implements actions.Pack.
func (p *Pack) NotCovered() []string {
	return []string{
		"dynamic response: buildings above 25 m or more than three times as high as their least plan dimension are refused",
		"parapets, attached canopies and awnings, multi-span and multi-level roofs, hips, domes, roof openings",
		"sheds with three open walls, and free roofs outside h/d 0.25 to 1 in wind across a gable",
		"friction and drag on the members of free roofs",
		"several internal volumes: one volume is taken; partitions do not reduce pressure",
		"lee zones, and New Zealand's regional speeds and direction multipliers: to be given",
		"the fall of regional speed away from the coast in regions C and D: the maximum is taken",
		"snow drifts at parapets, valleys and lower roofs; rain, ponding, ice, liquid, impact, vehicle and crane actions",
		"earthquake: the dynamic method, vertical action, parts and components, NZS 1170.5",
		"fatigue of cladding in cyclones and wind-borne debris on members",
		"temperature, settlement, construction stages, fire",
	}
}

// check validates input, collecting every mistake.
func (p *Pack) check(b *actions.Building, s *actions.Site) error {
	var errs []error
	if err := b.Validate(); err != nil {
		return err // what follows reads the geometry
	}
	errs = append(errs, p.t.covered(b))
	if _, err := p.t.Recurrence(nil, s, "wind"); err != nil {
		errs = append(errs, err)
	} else if _, err := p.speeds(nil, b, s, Frame); err != nil {
		errs = append(errs, err)
	}
	for i, f := range b.Floors {
		if _, err := p.floorImposed(nil, &b.Floors[i]); err != nil {
			errs = append(errs, fmt.Errorf("floor %s: %w", f.Name, err))
		}
	}
	if _, err := p.earthquake(nil, b, s, 0); err != nil {
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// speeds are the site speeds of the ultimate and the service wind.
func (p *Pack) speeds(w *actions.Working, b *actions.Building, s *actions.Site, use Use) (out [2]SiteSpeeds, err error) {
	years, err := p.t.Recurrence(w, s, "wind")
	if err != nil {
		return out, err
	}
	h := b.MeanRoofHeight()
	w.Part("Site wind speed, ultimate")
	if out[0], err = p.t.SiteSpeeds(w, s, h, years, use); err != nil {
		return out, err
	}
	out[0].LeastUltimate = p.t.at(w, "speed.least_ultimate")
	w.Part("Site wind speed, service")
	out[1], err = p.t.SiteSpeeds(w, s, h, p.t.at(w, "recurrence.service.wind"), use)
	out[0].AnyOrientation, out[1].AnyOrientation = p.opt.AnyOrientation, p.opt.AnyOrientation
	return out, err
}

// Winds finds the wind from the south, north, west and east, in that order, with coefficients and internal pressures. w
// may be nil. The building must be valid.
func (p *Pack) Winds(w *actions.Working, b *actions.Building, s *actions.Site) ([]Wind, error) {
	return p.winds(w, b, s, Frame)
}

func (p *Pack) winds(w *actions.Working, b *actions.Building, s *actions.Site, use Use) ([]Wind, error) {
	speeds, err := p.speeds(w, b, s, use)
	if err != nil {
		return nil, err
	}
	var out []Wind
	for f := actions.SouthWall; f <= actions.EastGable; f++ {
		wd := geometryOf(b, f)
		wd.Bearing = bearingOf(f, s.BearingX)
		w.Part("Wind on the " + f.String())
		for i, sp := range []*Speed{&wd.Ultimate, &wd.Service} {
			sp.V = speeds[i].Design(wd.Bearing)
			sp.Q = p.t.Pressure(w, sp.V)
			p.t.step(w, "air_density", "V_des, q", "largest V_sit within 45° of the wall's normal; q = 0.5·ρ·V²", sp.Q/1e3, "kPa", func() string {
				return fmt.Sprintf("%s: from %.0f°, V_des = %.1f m/s", [...]string{"ultimate", "service"}[i], wd.Bearing*180/math.Pi, sp.V)
			})
		}
		if free := len(openWalls(b)) == 4; free {
			if wd.Free, err = p.t.freeSets(w, b, &wd); err != nil {
				return nil, err
			}
		} else {
			wd.External = p.t.External(w, b, f)
			wd.InternalU = p.t.Internal(w, b, s, f, true, nil)
			wd.InternalS = p.t.Internal(w, b, s, f, false, nil)
			p.record(w, b, &wd)
		}
		out = append(out, wd)
	}
	return out, nil
}

// record writes the coefficients of one wind into the working.
func (p *Pack) record(w *actions.Working, b *actions.Building, wd *Wind) {
	if w == nil {
		return
	}
	e := wd.External
	t := p.t
	t.step(w, "wall.windward", "Cp,e", "windward wall", e.Windward, "-", nil)
	lee := "wall.leeward.flat.db1"
	if e.Sloped {
		lee = "wall.leeward.p10"
	}
	t.step(w, lee, "Cp,e", "leeward wall", e.Leeward, "-", func() string {
		return fmt.Sprintf("d/b = %.2f/%.2f", wd.D, wd.B)
	})
	for _, z := range e.Side {
		t.step(w, "wall.side.h1", "Cp,e", "side walls "+z.Name, z.Cpe[0], "-", zoneText(z))
	}
	for _, z := range e.Roof {
		for k, v := range z.Cpe {
			t.step(w, z.row, "Cp,e", "roof "+z.Name+", set "+setNames[k], v, "-", zoneText(z))
		}
	}
	for k, in := range []Internal{wd.InternalU, wd.InternalS} {
		event := [...]string{"ultimate", "service"}[k]
		hi, lo := in.States[in.HiState], in.States[in.LoState]
		t.step(w, hi.row, "Cp,i", "highest, "+event+": "+hi.Name, in.Hi, "-", func() string { return hi.numbers(t) })
		t.step(w, lo.row, "Cp,i", "lowest, "+event+": "+lo.Name, in.Lo, "-", func() string { return lo.numbers(t) })
	}
}

func zoneText(z Zone) func() string {
	return func() string { return fmt.Sprintf("%.2f m to %.2f m from the windward edge", z.From, z.To) }
}

// setNames name the two tabulated values of the roof.
var setNames = [2]string{"a", "b"}

// freeSets are the pairs of net coefficients of a roof without walls (clause B.3), empty and blocked under.
func (t *Table) freeSets(w *actions.Working, b *actions.Building, wd *Wind) ([]FreeSet, error) {
	up, down, ridge := slopes(b, wd.From)
	hd := wd.H / wd.D
	if hd > t.at(w, "free.depth.most") {
		return nil, fmt.Errorf("free roof: h/d = %.2f in wind on the %v is above 1; not covered", hd, wd.From)
	}
	low := hd < t.at(w, "free.depth.least")
	if low && !wd.Along && b.Shape == actions.Gable {
		return nil, fmt.Errorf("free roof: h/d = %.2f in wind across the gable is below %g; not covered", hd, t.at(w, "free.depth.least"))
	}
	shape, pitch, edge := b.Shape, max(up, down), "high"
	if wd.Along {
		shape, pitch, ridge = actions.MonoPitch, 0, wd.D/2 // along the ridge a roof counts as flat
	} else if b.Shape == actions.MonoPitch {
		ridge = wd.D / 2
		if lowEdge(b) == wd.From {
			edge = "low"
		}
	}
	if low { // Table B.4(B): the windward value over one height, the leeward value beyond
		ridge = min(wd.H, wd.D)
	}
	var groups [2][]FreeSet
	for k, under := range []string{"empty", "blocked"} {
		cw, cl, err := t.FreeRoof(w, shape, k == 1, pitch, edge)
		if err != nil {
			return nil, err
		}
		n := 0
		for _, a := range distinct(cw) {
			for _, c := range distinct(cl) {
				n++
				zones := []Zone{{0, ridge, [2]float64{a, a}, "windward half", "free.mono.empty.p0.w1"}, {ridge, wd.D, [2]float64{c, c}, "leeward half", "free.mono.empty.p0.l1"}}
				groups[k] = append(groups[k], FreeSet{Name: fmt.Sprintf("%s %d", under, n), Cpn: zones})
			}
		}
	}
	// Every effect is linear in the two coefficients: a set within the box of four others cannot govern.
	empty := slices.DeleteFunc(groups[0], func(s FreeSet) bool { return boxed(s, groups[1]) })
	return append(empty, groups[1]...), nil
}

// boxed says whether s equals one of group, or lies within the box whose four corners are group.
func boxed(s FreeSet, group []FreeSet) bool {
	lo, hi := [2]float64{infinite, infinite}, [2]float64{-infinite, -infinite}
	for _, g := range group {
		same := true
		for i, z := range g.Cpn {
			lo[i], hi[i] = min(lo[i], z.Cpe[0]), max(hi[i], z.Cpe[0])
			same = same && z.Cpe[0] == s.Cpn[i].Cpe[0]
		}
		if same {
			return true
		}
	}
	inside := len(group) == 4
	for i, z := range s.Cpn {
		inside = inside && z.Cpe[0] >= lo[i] && z.Cpe[0] <= hi[i]
	}
	return inside
}

func distinct(v [2]float64) []float64 {
	if v[0] == v[1] {
		return v[:1]
	}
	return v[:]
}
