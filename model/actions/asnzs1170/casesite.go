package asnzs1170

import (
	"encoding/json"
	"math"
	"slices"

	"leanbay/model/actions"
)

func regionalCase(t *Table, w *actions.Working, in *inputs) Answer {
	if in.has("pairs_region_R") {
		vs := []float64{}
		for _, p := range in.pairs("pairs_region_R") {
			v, err := t.RegionalSpeed(w, in.textOf("pairs_region_R", p[0]), in.numberOf("pairs_region_R", p[1]))
			in.keep(err)
			vs = append(vs, v)
		}
		return Answer{"V_R": vs}
	}
	if !in.allow("region", "R_years") {
		in.bad("give pairs_region_R, or region and R_years")
		return nil
	}
	vs, single := t.speedsOf(w, in)
	return Answer{"V_R": shaped(vs, single)}
}

// speedsOf are the regional speeds: as given, or by region and recurrence.
func (t *Table) speedsOf(w *actions.Working, in *inputs) (vs []float64, single bool) {
	if in.has("V_R") {
		return in.list("V_R")
	}
	years, single := in.list("R_years")
	for _, r := range years {
		v, err := t.RegionalSpeed(w, in.text("region", ""), r)
		in.keep(err)
		vs = append(vs, v)
	}
	return vs, single
}

func terrainCase(t *Table, w *actions.Working, in *inputs) Answer {
	if in.has("pairs_TC_z") {
		ms := []float64{}
		for _, p := range in.pairs("pairs_TC_z") {
			m, err := t.TerrainHeight(w, in.text("region", ""), in.numberOf("pairs_TC_z", p[0]), in.numberOf("pairs_TC_z", p[1]))
			in.keep(err)
			ms = append(ms, m)
		}
		return Answer{"M_zcat": ms}
	}
	z := "z_m"
	if in.has("h_m") {
		z = "h_m"
	}
	m, err := t.TerrainHeight(w, in.text("region", ""), in.need("terrain_category", 1, 4), in.need(z, 0, 50))
	in.keep(err)
	return Answer{"M_zcat": m}
}

// form is the geometry that a case gives, by its own words.
type form struct {
	h, eaves, span, length, pitch, b, d float64
	mono                                bool
	wind                                string // cross, long, low_edge, high_edge
}

// winds are the words for a case's wind.
var caseWinds = []string{"cross", "long", "low_edge", "high_edge"}

// formOf reads the geometry of a whole building.
func (in *inputs) formOf() form {
	f := form{eaves: in.need("eaves_m", 0, 50), span: in.need("span_m", 0.1, most), length: in.need("length_m", 0.1, most),
		wind: in.text("wind", "cross"), mono: in.text("roof", "gable") == "mono"}
	if roof := in.text("roof", "gable"); roof != "gable" && roof != "mono" {
		in.bad("roof %q: give gable or mono", roof)
	}
	if !slices.Contains(caseWinds, f.wind) {
		in.bad("wind %q: give one of %v", f.wind, caseWinds)
	}
	f.pitch = in.pitch(f.span)
	f.h = in.height()
	f.b, f.d = f.length, f.span
	if f.wind == "long" {
		f.b, f.d = f.d, f.b
	}
	return f
}

// pitch is that given, or of a gable by its ridge (degrees).
func (in *inputs) pitch(span float64) float64 {
	if in.has("pitch_deg") || !in.allow("ridge_m", "eaves_m") {
		return in.need("pitch_deg", 0, steepest)
	}
	return math.Atan((in.or("ridge_m", 0)-in.or("eaves_m", 0))/(span/2)) / rad
}

// height is the mean roof height: as given, or from the eaves and the ridge or pitch; extra_height_m is added to the
// latter.
func (in *inputs) height() float64 {
	if in.has("h_m") {
		return in.need("h_m", 0.1, 50)
	}
	eaves, extra := in.need("eaves_m", 0, 50), in.or("extra_height_m", 0)
	if in.has("ridge_m") {
		return in.within("height", (eaves+in.or("ridge_m", 0))/2+extra, 0.1, 50)
	}
	rise := in.need("span_m", 0.1, most) * math.Tan(in.need("pitch_deg", 0, steepest)*rad)
	if in.text("roof", "gable") != "mono" {
		rise /= 2
	}
	return in.within("height", eaves+rise/2+extra, 0.1, 50)
}

// climate and terrain are as given or from the tables.
func (t *Table) multipliers(w *actions.Working, in *inputs, h float64) (mc, mz float64) {
	mc, mz = 1, 1
	var err error
	if in.has("Mc") {
		mc = in.or("Mc", 1)
	} else if in.has("region") {
		mc, err = t.Climate(w, in.text("region", ""))
		in.keep(err)
	}
	if in.has("M_zcat") {
		mz = in.or("M_zcat", 1)
	} else {
		mz, err = t.TerrainHeight(w, in.text("region", ""), in.need("terrain_category", 1, 4), h)
		in.keep(err)
	}
	return mc, mz
}

// directions are Md: one number for all, the given ones by name, or the region's.
func (t *Table) directions(w *actions.Working, in *inputs) (md map[string]float64, single bool) {
	var one float64
	if raw, ok := in.raw["Md"]; ok {
		if json.Unmarshal(raw, &one) == nil {
			return map[string]float64{"": one}, true
		}
		in.into("Md", "a number, or numbers by direction", &md)
		for dir := range md {
			if !slices.Contains(compass, dir) {
				in.bad("Md: direction %q is not known; the directions are %v", dir, compass)
			}
		}
		return md, false
	}
	all, err := t.DirectionMultipliers(w, in.text("region", ""), Frame)
	in.keep(err)
	md = map[string]float64{}
	for i, dir := range compass {
		md[dir] = all[i]
	}
	return md, false
}

func siteCase(t *Table, w *actions.Working, in *inputs) Answer {
	vr, single := t.speedsOf(w, in)
	if len(vr) == 0 {
		in.bad("give V_R, or region and R_years")
		return nil
	}
	a := Answer{"V_R": shaped(vr, single)}
	h := 0.0
	if !in.has("M_zcat") || in.has("h_m") || in.has("eaves_m") {
		h = in.height()
		a["h_m"] = h
	}
	mc, mz := t.multipliers(w, in, h)
	a["Mc"], a["M_zcat"] = mc, mz
	if in.allow("eaves_m", "ridge_m", "span_m") || in.has("pitch_deg") {
		a["pitch_deg"] = in.pitch(in.or("span_m", 1))
	}
	rest := mc * mz * in.or("Ms", 1) * in.or("Mt", 1)
	md, one := t.directions(w, in)
	if one {
		v := make([]float64, len(vr))
		for i := range vr {
			v[i] = vr[i] * rest * md[""]
		}
		a["V_sit"] = shaped(v, single)
		a["V_des"] = shaped(t.floored(w, in, v), single)
		return a
	}
	sit := map[string]float64{}
	for dir, m := range md {
		sit[dir] = vr[0] * rest * m
	}
	a["V_sit"] = sit
	if in.has("bearing_deg") && len(sit) == len(compass) {
		var s SiteSpeeds
		for i, dir := range compass {
			s.V[i] = sit[dir]
		}
		bearing := in.need("bearing_deg", -360, 360) * rad
		a["V_des"] = t.floored(w, in, []float64{s.Design(bearing)})[0]
	}
	return a
}

// floored lifts ultimate design speeds to the least; a recurrence of the service wind is not lifted.
func (t *Table) floored(w *actions.Working, in *inputs, vs []float64) []float64 {
	years, _ := in.list("R_years")
	out := slices.Clone(vs)
	for i := range out {
		if i < len(years) && years[i] <= t.at(w, "recurrence.service.wind") {
			continue
		}
		out[i] = max(out[i], t.at(w, "speed.least_ultimate"))
	}
	return out
}

// speedAndPressure fills V_R, Mc, M_zcat, V_des and q for one building; q in kPa.
func (t *Table) speedAndPressure(w *actions.Working, in *inputs, h float64, a Answer) (q float64) {
	if in.has("q_kPa") {
		q = in.or("q_kPa", 0)
		a["q_kPa"] = q
		return q
	}
	v := in.or("V_des", 0)
	if !in.has("V_des") {
		vr, _ := t.speedsOf(w, in)
		if len(vr) != 1 {
			in.bad("give V_R, or region and one R_years")
			return 0
		}
		mc, mz := t.multipliers(w, in, h)
		a["V_R"], a["Mc"], a["M_zcat"] = vr[0], mc, mz
		md, _ := t.directions(w, in)
		most := 0.0 // the orientation is not known: the largest
		for _, m := range md {
			most = max(most, m)
		}
		v = t.floored(w, in, []float64{vr[0] * mc * mz * most * in.or("Ms", 1) * in.or("Mt", 1)})[0]
	}
	q = t.Pressure(w, v) / 1e3
	a["V_des"], a["q_kPa"] = v, q
	return q
}

func shieldingCase(t *Table, w *actions.Working, in *inputs) Answer {
	h, ns := in.need("h_m", 0.1, 500), in.need("ns", 0, 1e6)
	if ns == 0 || in.or("upwind_slope", 0) > t.at(w, "shielding.limit.slope") {
		return Answer{"Ms": 1.0}
	}
	ms, s, ls := t.Shielding(w, h, ns, in.need("hs_m", 0.1, 500), in.need("bs_m", 0.1, most))
	a := Answer{"Ms": ms}
	if !math.IsInf(s, 0) {
		a["s"], a["ls_m"] = s, ls
	}
	return a
}

func hillCase(t *Table, w *actions.Working, in *inputs) Answer {
	hill := actions.Hill{Height: in.need("H_m", 0, most), UpwindHalf: in.need("Lu_m", 0.1, 1e6), Distance: math.Abs(in.or("x_m", 0))}
	switch f := in.text("feature", "hill"); f {
	case "hill", "ridge":
	case "escarpment":
		hill.Escarpment = true
	default:
		in.bad("feature %q: give hill, ridge or escarpment", f)
	}
	switch s := in.text("side_of_crest", "up"); s {
	case "up", "upwind":
	case "down", "downwind":
		hill.Downwind = true
	default:
		in.bad("side_of_crest %q: give up or down", s)
	}
	r := t.Hill(w, hill, in.need("z_m", 0, 500))
	a := Answer{"upwind_slope": r.Slope, "L1_m": r.L1, "L2_m": r.L2, "Mh": r.Mh}
	if in.has("region") {
		if _, err := speedFamily(in.text("region", "")); err != nil {
			in.keep(err)
		}
		a["Mt"] = t.Topographic(w, in.text("region", ""), r.Mh, in.or("elevation_m", 0))
	}
	return a
}
