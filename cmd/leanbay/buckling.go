package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"leanbay/catalog"
	"leanbay/plots/charts"
	"leanbay/solver/checks/asnzs4600"
	"leanbay/solver/strip"
)

// longestCurve is the half-wavelength (m) to which the curves of --buckling run at least: global buckling of a purlin
// between frames is in sight.
const longestCurve = 10.0

// bucklingJSON is the buckling part of the JSON answer: half-wavelengths in mm, stresses in MPa at the most stressed
// fibre of the mid-line, loads in kN and kN·m.
type bucklingJSON struct {
	Method   string        `json:"method"`
	Grade    string        `json:"grade"`
	Fy       float64       `json:"fy"`
	Loadings []loadingJSON `json:"loadings"`
}

type loadingJSON struct {
	Loading      string       `json:"loading"`
	Name         string       `json:"name"`
	Minima       []pointJSON  `json:"minima"`
	Local        *criticalRow `json:"local"`
	Distortional *criticalRow `json:"distortional"`
	Curve        curveJSON    `json:"curve"`
}

type pointJSON struct {
	Kind     strip.Kind `json:"kind"`
	HalfWave float64    `json:"half_wave_mm"`
	Stress   float64    `json:"stress_mpa"`
	Factor   float64    `json:"factor_on_yield"`
}

// criticalRow is what the direct strength method takes.
type criticalRow struct {
	pointJSON
	Rule   strip.Rule `json:"rule"`
	Load   *float64   `json:"load_kn,omitempty"`
	Moment *float64   `json:"moment_knm,omitempty"`
}

type curveJSON struct {
	HalfWave []float64    `json:"half_wave_mm"`
	Stress   []float64    `json:"stress_mpa"`
	Kind     []strip.Kind `json:"kind"`
}

// bucklingAnswer analyses s and returns the answer in trade units.
func bucklingAnswer(s *catalog.Section, g catalog.Grade) (*bucklingJSON, error) {
	sigs, err := asnzs4600.Signatures(s, longestCurve)
	if err != nil {
		return nil, badInput(err)
	}
	out := &bucklingJSON{Method: asnzs4600.FiniteStrip, Grade: g.Name, Fy: significant(g.Fy / 1e6)}
	for i := range sigs {
		q := &sigs[i]
		l := loadingJSON{Loading: q.Key, Name: q.Name, Minima: []pointJSON{}, Local: critical(q, q.Critical.Local, g), Distortional: critical(q, q.Critical.Distortional, g)}
		for _, m := range q.Minima {
			l.Minima = append(l.Minima, point(m, g))
		}
		for j, f := range q.Curve.Factors {
			if math.IsInf(f, 1) {
				continue
			}
			l.Curve.HalfWave = append(l.Curve.HalfWave, significant(1e3*q.Curve.Lengths[j]))
			l.Curve.Stress = append(l.Curve.Stress, significant(f/1e6))
			l.Curve.Kind = append(l.Curve.Kind, q.Curve.Kinds[j])
		}
		out.Loadings = append(out.Loadings, l)
	}
	return out, nil
}

func point(m strip.Minimum, g catalog.Grade) pointJSON {
	return pointJSON{Kind: m.Kind, HalfWave: significant(1e3 * m.HalfWave), Stress: significant(m.Factor / 1e6), Factor: significant(m.Factor / g.Fy)}
}

// critical is nil where the section has no such buckling under the loading.
func critical(q *asnzs4600.Signature, f strip.Found, g catalog.Grade) *criticalRow {
	if f.Rule == strip.None {
		return nil
	}
	r := &criticalRow{pointJSON: point(f.Minimum, g), Rule: f.Rule}
	load := significant(f.Factor * q.Per / 1e3)
	if q.Moment {
		r.Moment = &load
	} else {
		r.Load = &load
	}
	return r
}

// bucklingText prints the critical stresses, the curves' minima and a table of the curves.
func bucklingText(b *strings.Builder, a *bucklingJSON) {
	fmt.Fprintf(b, "Elastic buckling by finite strips (E 200 GPa, nu 0.3, ends simply supported), grade %s, fy %s MPa\n", a.Grade, digits(a.Fy, 3))
	rows := [][]string{{"  loading", "kind", "half-wave mm", "stress MPa", "on yield", "elastic load", "found as"}}
	for i := range a.Loadings {
		l := &a.Loadings[i]
		name := l.Name
		for _, r := range []struct {
			kind strip.Kind
			row  *criticalRow
		}{{strip.Local, l.Local}, {strip.Distortional, l.Distortional}} {
			rows = append(rows, bucklingRow(name, r.kind, r.row))
			name = ""
		}
	}
	writeTable(b, rows, func(col int) bool { return col >= 2 && col <= 4 })
	fmt.Fprintf(b, "  Stress: at the most stressed fibre of the mid-line. On yield: stress over fy, the load factor on first yield.\n")
	b.WriteString("\nSignature curves: stress in MPa by half-wavelength (l local, d distortional, g global)\n")
	curveTable(b, a)
}

// bucklingRow is one row of the table of critical stresses.
func bucklingRow(name string, kind strip.Kind, r *criticalRow) []string {
	if r == nil {
		return []string{"  " + name, string(kind), "-", "-", "-", "-", "no such buckling under this stress"}
	}
	load := ""
	switch {
	case r.Load != nil:
		load = digits(*r.Load, 4) + " kN"
	case r.Moment != nil:
		load = digits(*r.Moment, 4) + " kN·m"
	}
	return []string{"  " + name, string(kind), digits(r.HalfWave, 3), digits(r.Stress, 4), digits(r.Factor, 3), load, string(r.Rule)}
}

// curveTable prints every fifth point of the curves, a column per loading.
func curveTable(b *strings.Builder, a *bucklingJSON) {
	const every = 5
	head := []string{"  mm"}
	for i := range a.Loadings {
		head = append(head, fmt.Sprintf("(%d)", i+1))
		fmt.Fprintf(b, "  (%d) %s\n", i+1, a.Loadings[i].Name)
	}
	rows := [][]string{head}
	for j := 0; j < len(a.Loadings[0].Curve.HalfWave); j += every {
		x := a.Loadings[0].Curve.HalfWave[j]
		row := []string{"  " + digits(x, 4)}
		for i := range a.Loadings {
			row = append(row, curveCell(a.Loadings[i].Curve, x))
		}
		rows = append(rows, row)
	}
	writeTable(b, rows, func(int) bool { return true })
}

// curveCell is the value at half-wavelength x, "-" where the curve has none.
func curveCell(c curveJSON, x float64) string {
	for j, v := range c.HalfWave {
		if v == x {
			return digits(c.Stress[j], 4) + " " + string(c.Kind[j][:1])
		}
	}
	return "-"
}

// drawBuckling writes the picture to file: SVG or PNG by its ending.
func drawBuckling(s *catalog.Section, a *bucklingJSON, file string) error {
	format := strings.TrimPrefix(strings.ToLower(filepath.Ext(file)), ".")
	if format != "svg" && format != "png" {
		return badInput(fmt.Errorf("--svg %s: the file must end in .svg (or .png)", file))
	}
	c := charts.SignatureChart{Title: s.Name + ", " + a.Grade + ": elastic buckling", Yield: a.Fy}
	for i := range a.Loadings {
		l := &a.Loadings[i]
		line := charts.SignatureLine{Name: l.Name, X: l.Curve.HalfWave, Y: l.Curve.Stress}
		for _, m := range l.Minima {
			line.Markers = append(line.Markers, charts.SignatureMarker{X: m.HalfWave, Y: m.Stress, Kind: string(m.Kind)})
		}
		c.Lines = append(c.Lines, line)
	}
	var picture bytes.Buffer
	if err := charts.WriteSignature(&picture, c, format); err != nil {
		return err
	}
	if err := os.WriteFile(file, picture.Bytes(), 0o644); err != nil {
		return badInput(fmt.Errorf("--svg: %w", err))
	}
	return nil
}
