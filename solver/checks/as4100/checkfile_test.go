package as4100_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"leanbay/catalog"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// readRows reads a check file of testdata: comment lines, a header, rows by column name.
func readRows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, rec := range all[1:] {
		row := map[string]string{}
		for i, h := range all[0] {
			row[h] = rec[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// number parses an optional figure.
func number(t *testing.T, s string, missing float64) float64 {
	t.Helper()
	if s == "" {
		return missing
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// halfUnit is half a unit of the last digit of a printed figure of three digits or more.
func halfUnit(s string) float64 {
	if i := strings.IndexByte(s, '.'); i >= 0 {
		return 0.5 * math.Pow10(-(len(s) - i - 1))
	}
	// Whole numbers carry three digits: trailing places beyond them are no information.
	return 0.5 * math.Pow10(max(0, len(s)-3))
}

// capacityOf builds the capacity that a row names.
func capacityOf(t *testing.T, row map[string]string) *as4100.Capacity {
	t.Helper()
	sec, err := catalog.Find(row["designation"])
	if err != nil {
		t.Fatal(err)
	}
	g, err := sec.Grade(row["grade"])
	if err != nil {
		t.Fatal(err)
	}
	c, err := code.New(sec, g)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// quantity works out the quantity of a row in the file's units; ok is false for a quantity of another code pack.
func quantity(t *testing.T, row map[string]string) (v float64, ok bool) {
	if strings.HasPrefix(row["quantity"], "fo") {
		return 0, false
	}
	c := capacityOf(t, row)
	le := number(t, row["Le_m"], 0)
	const phi = 0.9
	switch row["quantity"] {
	case "phiNt":
		return checks.KN(phi * c.Nt), true
	case "phiNs":
		return checks.KN(phi * c.Ns), true
	case "phiNcx":
		return checks.KN(phi * c.Nc(as4100.X, le, nil)), true
	case "phiNcy":
		return checks.KN(phi * c.Nc(as4100.Y, le, nil)), true
	case "phiMsx":
		return checks.KNm(phi * c.Msx), true
	case "phiMsy":
		return checks.KNm(phi * c.Msy()), true
	case "phiMbx":
		return checks.KNm(phi * c.Mb(le, number(t, row["alpha_m"], 1), nil)), true
	case "phiVvx":
		return checks.KN(phi * c.Vvx), true
	case "phiVvy":
		return checks.KN(phi * c.Vvy), true
	case "phiMz":
		return checks.KNm(phi * c.Mz), true
	}
	lex, ley := number(t, row["Lex_m"], 0), number(t, row["Ley_m"], 0)
	k := as4100.Interaction{C: c, Ncx: c.Nc(as4100.X, lex, nil), Ncy: c.Nc(as4100.Y, ley, nil), Nt: c.Nt, Mbx: c.Mb(ley, 1, nil), Msy: c.Msy(), BetaX: -1, BetaY: -1}
	a := as4100.Actions{N: 1e3 * number(t, row["N_kN"], 0), Mx: 1e3 * number(t, row["Mx_kNm"], 0), My: 1e3 * number(t, row["My_kNm"], 0)}
	switch row["quantity"] {
	case "phiMrx", "phiMrx_tension":
		return checks.KNm(phi * k.Mrx(a.N, nil)), true
	case "phiMry":
		return checks.KNm(phi * k.Mry(a.N, nil)), true
	case "phiMix":
		return checks.KNm(phi * k.Mix(a.N, nil)), true
	case "phiMox", "phiMox_tension":
		return checks.KNm(phi * k.Mox(a.N, nil)), true
	case "util_8.3.4_linear":
		return a.N/(phi*c.Ns) + a.Mx/(phi*c.Msx) + a.My/(phi*c.Msy()), true
	case "util_8.4.5.1":
		return k.Biaxial(a, nil).Raw, true
	}
	t.Fatalf("quantity %q has no place in this test", row["quantity"])
	return 0, false
}

// TestCapacitiesCheckFile holds every capacity of the check file: published and remembered figures within 1 % plus half
// a unit of the last digit, figures of the other implementation within 0.5 % plus the same. Disputed rows are no target
// (see the file's header).
func TestCapacitiesCheckFile(t *testing.T) {
	type tally struct {
		agree, rows int
		worst       float64
		where       string
	}
	tallies := map[string]*tally{}
	limits := map[string]float64{"published": 0.01, "memory": 0.01, "computed": 0.005}
	for _, row := range readRows(t, "capacities-check.csv") {
		limit, target := limits[row["kind"]]
		if !target {
			continue
		}
		got, ours := quantity(t, row)
		if !ours {
			continue
		}
		k := tallies[row["kind"]]
		if k == nil {
			k = &tally{}
			tallies[row["kind"]] = k
		}
		want := number(t, row["value"], math.NaN())
		dev := got/want - 1
		k.rows++
		if math.Abs(got-want) <= limit*want+halfUnit(row["value"]) {
			k.agree++
		} else {
			t.Errorf("%s %s %s Le %s: got %.4g, %s %s (%+.2f %%)", row["designation"], row["grade"], row["quantity"], row["Le_m"], got, row["kind"], row["value"], 100*dev)
		}
		if math.Abs(dev) > math.Abs(k.worst) {
			k.worst, k.where = dev, row["designation"]+" "+row["quantity"]+" "+row["Le_m"]
		}
	}
	for _, kind := range []string{"published", "memory", "computed"} {
		if k := tallies[kind]; k == nil || k.rows == 0 {
			t.Errorf("no rows of kind %s", kind)
		} else {
			t.Logf("%s: %d of %d rows agree, largest difference %+.2f %% (%s)", kind, k.agree, k.rows, 100*k.worst, k.where)
		}
	}
}

// TestPropertiesCheckFile holds kf, effective moduli and classes: 0.5 % plus half a unit of the last digit, classes
// exactly.
func TestPropertiesCheckFile(t *testing.T) {
	rows, agree, worst, where := 0, 0, 0.0, ""
	for _, row := range readRows(t, "properties-check.csv") {
		if row["family"] == "Z" || row["family"] == "C" {
			continue
		}
		c := capacityOf(t, row)
		for _, q := range []struct {
			column string
			got    float64
		}{{"kf", c.Kf}, {"Zex", c.Zex * 1e6}, {"Zey", c.ZeyToes * 1e6}} {
			if row[q.column] == "" {
				continue
			}
			rows++
			want := number(t, row[q.column], 0)
			if math.Abs(q.got-want) <= 0.005*want+halfUnit(row[q.column]) {
				agree++
			} else {
				t.Errorf("%s %s: got %.4g, file %s", row["designation"], q.column, q.got, row[q.column])
			}
			if d := q.got/want - 1; math.Abs(d) > math.Abs(worst) {
				worst, where = d, row["designation"]+" "+q.column
			}
		}
		for _, q := range []struct {
			column string
			got    as4100.Compactness
		}{{"cx", c.ClassX}, {"cy", c.ClassY}} {
			if row[q.column] == "" {
				continue
			}
			rows++
			if string(q.got) == row[q.column] {
				agree++
			} else {
				t.Errorf("%s %s: got %s, file %s", row["designation"], q.column, q.got, row[q.column])
			}
		}
	}
	t.Logf("%d of %d figures agree, largest difference %+.2f %% (%s)", agree, rows, 100*worst, where)
	if rows < 100 {
		t.Errorf("only %d figures read", rows)
	}
}
