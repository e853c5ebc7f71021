package asnzs1170

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leanbay/model/actions"
)

// shapeOf are the external coefficients of a case's building, by the table that its pitch belongs to.
type shapeOf struct {
	windward, leeward float64
	side, zones       []Zone
	up                *[2]float64
	down              *float64
}

func (t *Table) shapeOf(w *actions.Working, in *inputs, f form) shapeOf {
	s := shapeOf{windward: t.Windward(w), leeward: t.Leeward(w, f.wind == "long", f.pitch, f.d, f.b), side: t.Side(w, f.h, f.d)}
	if f.pitch < 10 || f.wind == "long" {
		s.zones = t.FlatRoof(w, f.h, f.d)
		return s
	}
	up, down := t.Upwind(w, f.pitch, f.h/f.d), t.Downwind(w, f.pitch, f.h/f.d, f.b, f.d)
	switch {
	case !f.mono:
		s.up, s.down = &up, &down
	case f.wind == "low_edge":
		s.up = &up
	case f.wind == "high_edge":
		s.down = &down
	default:
		in.bad("a mono-pitch from 10°: give wind as low_edge, high_edge or long")
	}
	return s
}

func strips(zs []Zone, both bool) []map[string]any {
	var out []map[string]any
	for _, z := range zs {
		m := map[string]any{"from_m": z.From, "to_m": z.To, "Cpe": z.Cpe[0]}
		if both {
			m["Cpe"] = z.Cpe[:]
		}
		out = append(out, m)
	}
	return out
}

func pressureCase(t *Table, w *actions.Working, in *inputs) Answer {
	f := in.formOf()
	if len(in.errs) > 0 {
		return nil
	}
	a := Answer{"h_m": f.h, "b_m": f.b, "d_m": f.d, "h_over_d": f.h / f.d, "d_over_b": f.d / f.b}
	q := t.speedAndPressure(w, in, f.h, a)
	s := t.shapeOf(w, in, f)
	cpe := Answer{"windward_wall": s.windward, "leeward_wall": s.leeward, "side_walls": strips(s.side, false)}
	if s.zones != nil {
		cpe["roof_zones_from_windward_edge"] = strips(s.zones, true)
	}
	if s.up != nil {
		cpe["roof_upwind_slope"] = s.up[:]
	}
	if s.down != nil {
		cpe["roof_downwind_slope"] = *s.down
	}
	a["Cpe"] = cpe
	cpis := t.internalOf(w, in)
	if len(cpis) == 0 {
		return a
	}
	a["Cpi"] = cpis
	net := Answer{}
	for i, cpi := range cpis {
		net["Cpi_"+ordinal(i)] = t.netOf(in, s, q, cpi)
	}
	a["net_pressure_kPa"] = net
	return a
}

func ordinal(i int) string {
	words := []string{"first", "second", "third", "fourth", "fifth", "sixth"}
	if i < len(words) {
		return words[i]
	}
	return strconv.Itoa(i + 1)
}

// internalOf are the given coefficients, or those of the walls that are said to be permeable.
func (t *Table) internalOf(w *actions.Working, in *inputs) []float64 {
	if in.has("Cpi_cases") {
		vals, _ := in.list("Cpi_cases")
		return vals
	}
	switch o := in.text("openings", ""); o {
	case "":
	case "walls equally permeable":
		lo, hi := t.Permeable(w, AllPermeable, true)
		return []float64{lo, hi}
	default:
		in.bad("openings %q: give 'walls equally permeable', or Cpi_cases", o)
	}
	return nil
}

// netOf are the net pressures for one internal coefficient: q·(Cp,e·Ka·Kc,e·Kl·Kp − Cp,i·Kc,i)·C_dyn in kPa.
func (t *Table) netOf(in *inputs, s shapeOf, q, cpi float64) Answer {
	outside := in.or("Ka", 1) * in.or("Kc_e", 1) * in.or("Kl", 1) * in.or("Kp", 1)
	net := func(cpe float64) float64 {
		return q * (cpe*outside - cpi*in.or("Kc_i", 1)) * in.or("Cdyn", 1)
	}
	pair := func(c [2]float64) []float64 { return []float64{net(c[0]), net(c[1])} }
	a := Answer{"Cpi": cpi, "windward_wall": net(s.windward), "leeward_wall": net(s.leeward), "side_wall_first_zone": net(s.side[0].Cpe[0])}
	if s.zones != nil {
		var all [][]float64
		for _, z := range s.zones {
			all = append(all, pair(z.Cpe))
		}
		a["roof_zones"] = all
	}
	if s.up != nil {
		a["roof_upwind_slope"] = pair(*s.up)
	}
	if s.down != nil {
		a["roof_downwind_slope"] = net(*s.down)
	}
	return a
}

var openingSurfaces = []string{"windward wall", "leeward wall", "side wall", "roof"}

func openingCase(t *Table, w *actions.Working, in *inputs) Answer {
	f := in.formOf()
	surface := in.text("opening_surface", "windward wall")
	if !slices.Contains(openingSurfaces, surface) {
		in.bad("opening_surface %q: give one of %s", surface, strings.Join(openingSurfaces, ", "))
	}
	o := Opened{Surface: surface, Area: in.need("dominant_opening_m2", 1e-6, 1e6), Others: in.or("other_open_area_m2", 0)}
	if len(in.errs) > 0 {
		return nil
	}
	a := Answer{}
	q := t.speedAndPressure(w, in, f.h, a)
	s := t.shapeOf(w, in, f)
	roof := 0.0
	switch {
	case s.zones != nil:
		roof = s.zones[0].Cpe[0]
	case s.up != nil:
		roof = s.up[0]
	case s.down != nil:
		roof = *s.down
	}
	byFace := map[string]float64{"windward wall": s.windward, "leeward wall": s.leeward, "side wall": s.side[0].Cpe[0], "roof": roof}
	o.Cpe = in.or("opening_face_Cpe", byFace[surface])
	ka, err := t.AreaReduction(w, surface, o.Area)
	in.keep(err)
	o.Ka, o.Kl = in.or("Ka_opening", ka), in.or("Kl_at_opening", 1)
	o.Volume = in.within("internal_volume_m3", in.or("internal_volume_m3", f.span*f.length*f.h), 1e-3, 1e12)
	kv, x := t.VolumeFactor(w, o)
	lo, hi := t.Dominant(w, o)
	if in.has("Kv") {
		given := in.or("Kv", kv)
		lo, hi, kv = lo/kv*given, hi/kv*given, given
	}
	if r := o.Ratio(); !math.IsInf(r, 0) {
		a["area_ratio"] = r
	}
	a["internal_volume_m3"], a["Kv_argument"], a["Kv"], a["Ka_opening"] = o.Volume, x, kv, o.Ka
	a["Cpi"] = hi
	if lo != hi {
		a["Cpi"] = []float64{lo, hi}
	}
	a["roof_first_zone_Cpe"] = roof
	outside := in.or("Ka", 1) * in.or("Kc_e", 1) * in.or("Kl", 1) * in.or("Kp", 1)
	a["roof_first_zone_net_kPa"] = q * (roof*outside - hi*in.or("Kc_i", 1)) * in.or("Cdyn", 1)
	return a
}

func frictionCase(t *Table, w *actions.Working, in *inputs) Answer {
	q, cf := in.need("q_kPa", 0, 1e3), in.or("Cf", t.at(w, "friction.across"))
	b, d, h := in.need("b_m", 0.1, most), in.need("d_m", 0.1, most), in.need("h_m", 0.1, most)
	force, area := t.Friction(w, q, cf, b, d, h)
	return Answer{"area_m2": area, "force_kN": force * in.or("Kc_e", 1) * in.or("Ka", 1)}
}

func localCase(t *Table, w *actions.Working, in *inputs) Answer {
	l := t.LocalLengths(w, in.need("h_m", 0.1, most), in.need("b_m", 0.1, most), in.need("d_m", 0.1, most))
	a := Answer{"a_m": l.Wall, "a_roof_m": l.Roof, "a_squared_m2": l.Wall * l.Wall, "quarter_a_squared_m2": t.at(w, "local.area.quarter") * l.Wall * l.Wall}
	zone := func(name, input string) {
		if in.has(input) {
			kl := t.at(w, "local."+name)
			a[fmt.Sprintf("%s_Kl_%.1f", name, kl)] = t.localSuction(w, kl, in.or(input, 0))
		}
	}
	zone("RA1", "roof_edge_Cpe")
	zone("RA2", "roof_edge_Cpe")
	if in.or("roof_pitch_deg", 0) < 10 {
		zone("RC1", "roof_edge_Cpe")
	}
	zone("SA1", "side_wall_Cpe")
	zone("SA2", "side_wall_Cpe")
	zone("WA1", "windward_wall_Cpe")
	return a
}

func areaCase(t *Table, w *actions.Working, in *inputs) Answer {
	if !in.has("pairs_surface_area") {
		in.bad("pairs_surface_area is missing")
	}
	ks := []float64{}
	for _, p := range in.pairs("pairs_surface_area") {
		k, err := t.AreaReduction(w, in.textOf("pairs_surface_area", p[0]), in.numberOf("pairs_surface_area", p[1]))
		in.keep(err)
		ks = append(ks, k)
	}
	return Answer{"Ka": ks}
}

func geometryCase(t *Table, w *actions.Working, in *inputs) Answer {
	span, length, pitch := in.need("span_m", 0.1, most), in.need("length_m", 0.1, most), in.need("pitch_deg", 0, steepest)
	eaves := in.need("eaves_m", 0.1, 50)
	rise := span / 2 * math.Tan(pitch*rad)
	b, d := length, span
	switch wind := in.text("wind", "cross"); wind {
	case "cross":
	case "long":
		b, d = d, b
	default:
		in.bad("wind %q: give cross or long", wind)
	}
	h := eaves + rise/2
	a := Answer{"rise_m": rise, "slope_length_m": span / 2 / math.Cos(pitch*rad), "h_m": h, "d_over_b": d / b, "a_m": t.LocalLengths(w, h, b, d).Wall}
	var areas map[string]float64
	if in.into("tributary_areas_m2", "areas by name", &areas) {
		ka := map[string]float64{}
		for _, name := range sortedKeys(areas) {
			surface := "roof"
			if strings.Contains(name, "column") {
				surface = "side wall"
			}
			k, err := t.AreaReduction(w, surface, areas[name])
			in.keep(err)
			ka[name] = k
		}
		a["Ka"] = ka
	}
	return a
}
