package asnzs1170

import (
	"fmt"
	"slices"
	"strings"

	"leanbay/model/actions"
)

// RoofImposed is the imposed action of a roof that is not used as a floor, for a member that supports area m² of plan,
// in Pa (AS/NZS 1170.1 3.5.1, Table 3.2).
func (p *Pack) RoofImposed(w *actions.Working, area float64) float64 { return p.t.RoofImposed(w, area) }

// RoofImposed is as for the pack.
func (t *Table) RoofImposed(w *actions.Working, area float64) float64 {
	c := t.series(w, "roof.imposed", "slope", "base", "least")
	kpa := max(c[2], c[0]/area+c[1])
	t.step(w, "roof.imposed.slope", "q", "1.8/A + 0.12, at least 0.25", kpa, "kPa", func() string { return fmt.Sprintf("A = %.1f m²", area) })
	return kpa * 1e3
}

// RoofPoint is the concentrated roof action in N on structural members and on cladding that gives direct support; it
// does not act together with the area load.
func (t *Table) RoofPoint(w *actions.Working) (member, cladding float64) {
	return t.at(w, "roof.imposed.point.member") * 1e3, t.at(w, "roof.imposed.point.cladding") * 1e3
}

// uses are the floor uses with a row of their own, by the words of the brief.
var uses = []string{"office", "workroom", "workshop", "plant", "storage", "file room", "shop", "stairs", "vehicles"}

func useRow(use string) (string, error) {
	if !slices.Contains(uses, use) {
		return "", fmt.Errorf("use %q is not known; the uses are %s", use, strings.Join(uses, ", "))
	}
	return "floor." + strings.ReplaceAll(use, " ", "_"), nil
}

// FloorImposed is the imposed action of a floor use: Pa over the area, and N on a point. A storage floor takes its
// stored height (m; 0 for not stated).
func (t *Table) FloorImposed(w *actions.Working, use string, stored float64) (area, point float64, err error) {
	r, err := useRow(use)
	if err != nil {
		return 0, 0, err
	}
	area = t.at(w, r+".area")
	if use == "storage" && stored > 0 {
		area = max(area, t.at(w, r+".per_metre")*stored)
	}
	return area * 1e3, t.at(w, r+".point") * 1e3, nil
}

// floorImposed is the floor's own imposed action where it is given, else the table's (Pa).
func (p *Pack) floorImposed(w *actions.Working, f *actions.Floor) (float64, error) {
	pa, _, err := p.t.FloorImposed(w, f.Use, f.StoredHeight)
	if err == nil && f.Imposed > 0 {
		pa = f.Imposed
	}
	return pa, err
}

// FloorReduction is ψa for a tributary area in m² (AS/NZS 1170.1 3.4.2): 1.0 for storage, workshops, plant and vehicles.
// It is off in the cases and offered to whoever designs one member.
func (t *Table) FloorReduction(w *actions.Working, use string, area float64) float64 {
	if area <= 0 || slices.Contains([]string{"storage", "workshop", "plant", "file room", "vehicles"}, use) {
		return 1
	}
	c := t.series(w, "floor.reduction", "base", "slope", "least")
	return min(1, max(c[2], c[0]+c[1]/sqrt(area)))
}

// Barrier is the line action on a rail (N/m) and the pressure on infill (Pa) of barriers in work and storage areas.
func (t *Table) Barrier(w *actions.Working) (rail, infill float64) {
	return t.at(w, "barrier.rail") * 1e3, t.at(w, "barrier.infill") * 1e3
}

// Psi are the factors ψs, ψl, ψc, ψE.
type Psi struct{ S, L, C, E float64 }

// Psi returns the combination factors of a floor use, or of "roof".
func (t *Table) Psi(w *actions.Working, use string) Psi {
	r := "psi.general"
	switch use {
	case "storage", "file room", "workshop", "vehicles":
		r = "psi.storage"
	case "plant":
		r = "psi.machinery"
	case "roof":
		r = "psi.roof"
	}
	c := t.series(w, r, "s", "l", "c", "E")
	return Psi{c[0], c[1], c[2], c[3]}
}

// SnowShape is the shape coefficient μ1 of a slope in degrees (AS/NZS 1170.3, 5).
func (t *Table) SnowShape(w *actions.Working, pitch float64) float64 {
	c := t.series(w, "snow.shape", "full", "limit", "slope_range")
	return c[0] * max(0, min(1, 1-(pitch-c[1])/c[2]))
}
