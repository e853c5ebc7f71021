package asnzs1170

import (
	"math"
	"strconv"
	"strings"

	"leanbay/model/actions"
)

func roofImposedCase(t *Table, w *actions.Working, in *inputs) Answer {
	areas, _ := in.list("areas_m2")
	qs := []float64{}
	use := in.text("roof_use", "other roof")
	accessible := strings.Contains(use, "accessible") || strings.Contains(use, "floor")
	if !accessible && !strings.Contains(use, "other roof") {
		in.bad("roof_use %q: give 'other roof' or 'accessible'", use)
	}
	for _, area := range areas {
		if !(area > 0) {
			in.bad("areas_m2 %g: give more than 0", area)
			return nil
		}
		q := t.RoofImposed(w, area) / 1e3
		if accessible {
			q = t.at(w, "roof.accessible.area")
		}
		qs = append(qs, q)
	}
	if accessible {
		return Answer{"q_kPa": qs, "concentrated_kN": t.at(w, "roof.accessible.point")}
	}
	member, cladding := t.RoofPoint(w)
	return Answer{"q_kPa": qs, "concentrated_kN": member / 1e3, "concentrated_cladding_kN": cladding / 1e3}
}

func earthquakeCase(t *Table, w *actions.Working, in *inputs) Answer {
	years, ok := probability(in.text("annual_probability", ""))
	if !ok {
		in.bad("annual_probability %q: give it as \"1/500\"", in.text("annual_probability", ""))
		return nil
	}
	z := in.need("Z", 0, 1)
	kp, kpz, err := t.KpZ(w, z, years)
	if in.has("kp") { // as given, with the least hazard factor alone
		kp, err = in.or("kp", 1), nil
		kpz = kp * max(z, t.at(w, "earthquake.least_Z"))
	}
	in.keep(err)
	a := Answer{"kp": kp, "kpZ": kpz}
	switch {
	case in.has("T1_s"):
		a["T1_s"] = in.need("T1_s", 1e-3, 100)
	case in.allow("kt", "hn_m"):
		a["T1_s"] = t.Period(w, in.need("kt", 0.001, 1), in.need("hn_m", 0.1, 50))
	}
	period, known := a["T1_s"].(float64)
	switch {
	case in.has("Ch_T1"):
		a["Ch_T1"] = in.or("Ch_T1", 0)
	case known && in.has("site_class"):
		ch, err := t.Spectrum(w, in.text("site_class", ""), period)
		in.keep(err)
		a["Ch_T1"] = ch
	}
	performance := in.or("Sp_over_mu", t.at(w, "earthquake.performance.ordinary"))
	if in.allow("Sp", "mu") {
		performance = in.or("Sp", 1) / in.need("mu", 0.1, 100)
	}
	ch, known := a["Ch_T1"].(float64)
	if !known {
		return a
	}
	cd := kpz * ch * performance
	a["Cd"] = cd
	if in.has("Wt_kN") {
		a["V_kN"] = cd * in.need("Wt_kN", 0, 1e9)
	}
	return a
}

// probability reads "1/500" as 500 years.
func probability(s string) (years float64, ok bool) {
	one, n, ok := strings.Cut(strings.ReplaceAll(s, " ", ""), "/")
	if !ok || one != "1" {
		return 0, false
	}
	years, err := strconv.ParseFloat(n, 64)
	return years, err == nil && years > 0
}

// combinationsCase lists the sets of AS/NZS 1170.0 as factors by action, before anything is left out.
func combinationsCase(t *Table, w *actions.Working, in *inputs) Answer {
	psi, _ := in.list("psi_floor_s_l_c_E")
	if len(psi) != 4 {
		in.bad("psi_floor_s_l_c_E: give four numbers")
		return nil
	}
	use := "roof"
	r := t.Psi(w, use)
	if roof := in.text("roof", "other roof"); !strings.Contains(roof, "other roof") {
		in.bad("roof %q: give 'other roof (not floor-type)'", roof)
	}
	g := t.series(w, "combination.strength", "G_alone", "G", "Q", "G_uplift", "G_earthquake")
	act := t.series(w, "combination.action", "Wu", "Su", "Eu", "Ws")
	const digits = 1e9 // products of decimal factors are shown as decimals again
	set := func(kv ...any) map[string]float64 {
		m := map[string]float64{}
		for i := 0; i < len(kv); i += 2 {
			m[kv[i].(string)] = math.Round(kv[i+1].(float64)*digits) / digits
		}
		return m
	}
	s, l, c, e := psi[0], psi[1], psi[2], psi[3]
	strength := []map[string]float64{
		set("G", g[0]),
		set("G", g[1], "Q_floor", g[2]),
		set("G", g[1], "Q_roof", g[2]),
		set("G", g[1], "Q_floor", g[2], "Q_roof", g[2]),
		set("G", g[1], "Q_floor", g[2]*l, "Q_roof", g[2]*r.L),
		set("G", g[1], "Wu", act[0], "Q_floor", c, "Q_roof", r.C),
		set("G", g[3], "Wu", act[0]),
		set("G", g[4], "Eu", act[2], "Q_floor", e, "Q_roof", r.E),
		set("G", g[1], "Su", act[1], "Q_floor", c, "Q_roof", r.C),
	}
	service := []map[string]float64{
		set("G", 1.0),
		set("G", 1.0, "Q_floor", s),
		set("G", 1.0, "Q_roof", r.S),
		set("G", 1.0, "Q_floor", l, "Q_roof", r.L),
		set("G", 1.0, "Ws", act[3]),
	}
	return Answer{"strength": strength, "serviceability": service}
}
