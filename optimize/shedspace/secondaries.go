package shedspace

import (
	"errors"
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/model/actions"
	"leanbay/model/actions/asnzs1170"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver/checks"
	"leanbay/solver/checks/asnzs4600"
)

// Secondaries are the purlins, girts and joists of a pair of spacings, with the check that governs each.
type Secondaries struct {
	Sections shed.SecondarySections
	Results  []SecondaryResult
}

// SecondaryResult is one secondary group: what was asked, what was chosen, and the governing check.
type SecondaryResult struct {
	Group  string
	Member string // "Z20015 at 1.20 m, 5 spans of 5.60 m, 2 rows of bridging"
	Need   asnzs4600.Need
	checks.Result
}

// permanentStrength and its fellows are the factors of AS/NZS 1170.0 4.2.2 that secondaries' loads are made with.
const (
	permanentStrength = 1.2
	permanentUplift   = 0.9
	imposedStrength   = 1.5
	roofShortTerm     = 0.7 // ψs of other roofs, AS/NZS 1170.0 Table 4.1
)

// localFactor is Kl within the length a of an edge, for purlins and girts (AS/NZS 1170.2 Table 5.6, RA1 and SA1): the
// next smaller zones take 2.0 on a quarter of the area, which a purlin's strip exceeds.
const localFactor = 1.5

// envelope is the worst wind on one kind of surface (Pa): at large and within an edge zone of length a.
type envelope struct {
	in, out, edgeOut   float64
	serviceIn, service float64
	a                  float64
}

// chooseSecondaries finds the lightest passing purlin, girt and joist for a pair of spacings; where the proposal draws one
// and keep is set, that one is checked instead.
func (p *Problem) chooseSecondaries(b *bench, sp spacings, keep bool) (Secondaries, error) {
	winds, err := b.pack.Winds(nil, p.Shed.Building, p.Shed.Site)
	if err != nil {
		return Secondaries{}, err
	}
	var out Secondaries
	roof, wall := p.windOn(b, winds, true), p.windOn(b, winds, false)
	for _, want := range []struct {
		group brief.Group
		need  asnzs4600.Need
		given brief.Lines
		into  **catalog.Section
		skip  bool
	}{
		{brief.GroupPurlin, p.purlinNeed(b, roof, sp.purlin), p.Brief.Building.Secondary.Purlins, &out.Sections.Purlin, false},
		{brief.GroupGirt, p.girtNeed(wall, sp.girt), p.Brief.Building.Secondary.Girts, &out.Sections.Girt, len(p.Shed.Building.OpenFaces) >= 4},
		{brief.GroupJoist, p.joistNeed(), brief.Lines{Family: "C"}, &out.Sections.Joist, len(p.Shed.Mezzanines) == 0},
	} {
		if want.skip {
			continue
		}
		var drawn *catalog.Section
		if c := p.Drawn.Of(want.group); keep && c.Section != nil {
			drawn = c.Section
		}
		r, err := b.secondary(p.Brief, want.group, want.need, want.given, drawn)
		if err != nil {
			return Secondaries{}, fmt.Errorf("%s: %w", want.group, err)
		}
		*want.into = r.Section
		out.Results = append(out.Results, describeSecondary(want.group, want.need, r))
	}
	return out, nil
}

// secondary looks a need up in the table of the group's stock, or checks the drawn section alone. A need that no section
// meets keeps the best one, whose utilisation above 1 then counts.
func (b *bench) secondary(br *brief.Brief, g brief.Group, n asnzs4600.Need, lines brief.Lines, drawn *catalog.Section) (*asnzs4600.RunResult, error) {
	key := string(g)
	list := []*catalog.Section{drawn}
	if drawn == nil {
		list = secondaryStock(br, g, lines)
	} else {
		key += "/" + drawn.Name
	}
	t := b.tables[key]
	if t == nil {
		t = asnzs4600.NewTable(b.coldFormed, b.stock, list)
		b.tables[key] = t
	}
	r, err := t.Lightest(n)
	if errors.Is(err, asnzs4600.ErrNonePasses) {
		return r, nil
	}
	return r, err
}

// secondaryStock are the lipped sections of the brief's family and depth.
func secondaryStock(b *brief.Brief, g brief.Group, lines brief.Lines) []*catalog.Section {
	var out []*catalog.Section
	if rule, ok := b.Freedoms.Stock[g]; ok && len(rule.Sections) > 0 {
		for _, n := range rule.Sections {
			if s, err := b.Library().Find(n); err == nil {
				out = append(out, s)
			}
		}
		return out
	}
	for _, s := range b.Library().ByFamily(catalog.Family(lines.Family)) {
		if lines.Depth == 0 || math.Abs(s.Dims.D-float64(lines.Depth)) < 0.006 { // nominal depths are within 6 mm of the steel
			out = append(out, s)
		}
	}
	return out
}

func describeSecondary(g brief.Group, n asnzs4600.Need, r *asnzs4600.RunResult) SecondaryResult {
	text := fmt.Sprintf("%s at %.2f m, span %.2f m", r.Section.Name, n.Spacing, n.Span)
	if n.Continuous {
		text = fmt.Sprintf("%s at %.2f m, %d lapped spans of up to %.2f m", r.Section.Name, n.Spacing, n.Spans, n.Span)
	}
	if n.Bridging > 0 {
		text += fmt.Sprintf(", %d rows of bridging", n.Bridging)
	}
	return SecondaryResult{Group: string(g), Member: text, Need: n, Result: r.Governing}
}

// windOn is the worst wind on the roof or on the walls over the four directions.
func (p *Problem) windOn(b *bench, winds []asnzs1170.Wind, roof bool) envelope {
	var e envelope
	for i := range winds {
		w := &winds[i]
		a := b.pack.Table().LocalLengths(nil, w.H, w.B, w.D)
		e.a = math.Max(e.a, map[bool]float64{true: a.Roof, false: a.Wall}[roof])
		if len(w.Free) > 0 {
			e.free(w)
			continue
		}
		for _, cpe := range coefficients(w, roof) {
			e.add(w, cpe)
		}
	}
	return e
}

// coefficients are all external coefficients of one wind on the roof, or on the walls.
func coefficients(w *asnzs1170.Wind, roof bool) []float64 {
	var out []float64
	if roof {
		for _, z := range w.External.Roof {
			out = append(out, z.Cpe[:]...)
		}
		return out
	}
	out = append(out, w.External.Windward, w.External.Leeward)
	for _, z := range w.External.Side {
		out = append(out, z.Cpe[:]...)
	}
	return out
}

// add takes one external coefficient with both ends of the internal pressure.
func (e *envelope) add(w *asnzs1170.Wind, cpe float64) {
	q, s := w.Ultimate.Q, w.Service.Q
	e.in = math.Max(e.in, q*(cpe-w.InternalU.Lo))
	e.out = math.Max(e.out, q*(w.InternalU.Hi-cpe))
	e.edgeOut = math.Max(e.edgeOut, q*(w.InternalU.Hi-math.Min(cpe, localFactor*cpe)))
	e.serviceIn = math.Max(e.serviceIn, s*(cpe-w.InternalS.Lo))
	e.service = math.Max(e.service, s*(w.InternalS.Hi-cpe))
}

// free takes the net coefficients of a roof without walls, positive down.
func (e *envelope) free(w *asnzs1170.Wind) {
	for _, set := range w.Free {
		for _, z := range set.Cpn {
			for _, c := range z.Cpe {
				e.in, e.serviceIn = math.Max(e.in, w.Ultimate.Q*c), math.Max(e.serviceIn, w.Service.Q*c)
				e.out, e.service = math.Max(e.out, -w.Ultimate.Q*c), math.Max(e.service, -w.Service.Q*c)
				e.edgeOut = math.Max(e.edgeOut, -w.Ultimate.Q*localFactor*c)
			}
		}
	}
}

// longestBay is the greatest distance between frames.
func (p *Problem) longestBay() float64 {
	longest := 0.0
	for i := 1; i < len(p.Shed.Frames); i++ {
		longest = math.Max(longest, p.Shed.Frames[i]-p.Shed.Frames[i-1])
	}
	return longest
}

// purlinNeed is the governing purlin: the longest bay's span over all bays, permanent and imposed action, and the worst
// wind of the roof with its edge zone.
func (p *Problem) purlinNeed(b *bench, wind envelope, spacing float64) asnzs4600.Need {
	lines := p.Brief.Building.Secondary.Purlins
	bl := p.Shed.Building
	span := p.longestBay()
	pitch := bl.Pitch(actions.SouthRoof)
	cos, sin := math.Cos(pitch), math.Sin(pitch)
	imposed := b.pack.RoofImposed(nil, span*spacing)
	dead := bl.RoofDead*cos + bl.RoofExtra*cos*cos
	gravity := math.Max(permanentStrength*dead+imposedStrength*imposed*cos*cos, permanentStrength*dead+wind.in)
	least := permanentUplift * bl.RoofDead * cos
	n := asnzs4600.Need{
		Role: "purlin", Span: span, Spans: len(p.Shed.Frames) - 1, Continuous: lines.Lap > 0, Spacing: spacing,
		Bridging: lines.MaxBridging, SheetHolds: p.Brief.Building.Diaphragm, Slope: pitch,
		Inward: gravity, Outward: math.Max(0, wind.out-least), EdgeOutward: math.Max(0, wind.edgeOut-least), Edge: wind.a,
		Along:     (permanentStrength*(bl.RoofDead+bl.RoofExtra*cos) + imposedStrength*imposed*cos) * sin,
		ServiceIn: math.Max(dead+roofShortTerm*imposed*cos*cos, dead+wind.serviceIn), ServiceOut: wind.service,
		Deflect: float64(p.Brief.Limits.PurlinWind),
	}
	if n.Continuous {
		n.Lap = math.Max(lines.Lap*span, float64(lines.MinLap))
	}
	return n
}

// girtNeed is the governing girt: simple spans, since doors and windows cut the lines.
func (p *Problem) girtNeed(wind envelope, spacing float64) asnzs4600.Need {
	span := p.longestBay()
	for gable := range 2 {
		ys := append([]float64{0}, p.Shed.Mullions[gable]...)
		ys = append(ys, p.Shed.Span)
		for i := 1; i < len(ys) && !p.Shed.OpenGable[gable]; i++ {
			span = math.Max(span, ys[i]-ys[i-1])
		}
	}
	return asnzs4600.Need{
		Role: "girt", Span: span, Spans: 1, Spacing: spacing, Bridging: p.Brief.Building.Secondary.Girts.MaxBridging,
		SheetHolds: p.Brief.Building.Diaphragm, Slope: math.Pi / 2,
		Inward: wind.in, Outward: wind.out, EdgeOutward: wind.edgeOut, Edge: wind.a,
		Along:     permanentStrength * p.Shed.Building.WallDead,
		ServiceIn: wind.serviceIn, ServiceOut: wind.service, Deflect: float64(p.Brief.Limits.GirtWind),
	}
}

// joistNeed is the governing joist of all floors: simple spans, with the floor holding its top flange where the brief
// calls it a diaphragm, else two rows of blocking.
func (p *Problem) joistNeed() asnzs4600.Need {
	var worst asnzs4600.Need
	for i := range p.Shed.Mezzanines {
		m := &p.Shed.Mezzanines[i]
		f := &p.Shed.Building.Floors[m.Floor]
		imposed := p.bench.floorImposed(p.Shed, m.Floor)
		n := asnzs4600.Need{
			Role: "joist", Span: p.Shed.JoistSpan(m), Spans: 1, Spacing: m.JoistSpacing, Bridging: 2, SheetHolds: m.Diaphragm,
			Inward: permanentStrength*f.Permanent + imposedStrength*imposed, ServiceIn: imposed, Deflect: float64(p.Brief.Limits.FloorImposed),
		}
		if n.Span*n.Span*n.Inward*n.Spacing > worst.Span*worst.Span*worst.Inward*worst.Spacing {
			worst = n
		}
	}
	return worst
}
