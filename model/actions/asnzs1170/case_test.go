package asnzs1170

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// checkFile is testdata/actions-check.json: published and independently computed cases, each with its source.
type checkFile struct {
	Cases []struct {
		ID        string             `json:"id"`
		Type      string             `json:"type"`
		Inputs    map[string]any     `json:"inputs"`
		Expected  map[string]any     `json:"expected"`
		Tolerance map[string]float64 `json:"tolerance"`
	} `json:"cases"`
}

func readChecks(t testing.TB) checkFile {
	t.Helper()
	raw, err := os.ReadFile("testdata/actions-check.json")
	if err != nil {
		t.Fatal(err)
	}
	var f checkFile
	if err := json.Unmarshal(raw, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

func TestCheckFile(t *testing.T) {
	table := NewTable(nil)
	cases := readChecks(t).Cases
	if len(cases) != 22 {
		t.Fatalf("%d cases, want 22", len(cases))
	}
	for _, c := range cases {
		t.Run(c.ID, func(t *testing.T) {
			if c.ID == "P2" {
				c.Inputs["M_zcat"] = 1.11 // its own edition's table 4.1, 2011; the file says that 2021 gives about 1.07
			}
			raw, err := json.Marshal(map[string]any{"type": c.Type, "inputs": c.Inputs})
			if err != nil {
				t.Fatal(err)
			}
			a, err := AnswerCase(table, nil, raw)
			if err != nil {
				t.Fatal(err)
			}
			// Through JSON, as a user gets it.
			var got map[string]any
			text, _ := json.Marshal(a)
			if err := json.Unmarshal(text, &got); err != nil {
				t.Fatal(err)
			}
			cmp := comparison{t: t, tol: c.Tolerance}
			if c.Type == "combinations" {
				cmp.sets(c.Expected, got)
			} else {
				cmp.value("", "", c.Expected, got)
			}
			t.Logf("%s: %d numbers, largest share of a tolerance %.3f at %s", c.ID, cmp.n, cmp.worst, cmp.where)
		})
	}
}

type comparison struct {
	t     *testing.T
	tol   map[string]float64
	n     int
	worst float64
	where string
}

// value compares want with got field by field; field is the innermost name, which decides the tolerance.
func (c *comparison) value(path, field string, want, got any) {
	switch w := want.(type) {
	case map[string]any:
		g, ok := got.(map[string]any)
		if !ok {
			c.t.Fatalf("%s: got %v, want an object", path, got)
		}
		for k, v := range w {
			if _, ok := g[k]; !ok {
				c.t.Errorf("%s.%s: absent", path, k)
				continue
			}
			f := k
			if path == ".net_pressure_kPa" || field == "net" {
				f = "net"
			}
			if field == "Ka" || field == "V_sit" {
				f = field
			}
			if f == "net" && k == "Cpi" {
				f = "Cpi"
			}
			c.value(path+"."+k, f, v, g[k])
		}
	case []any:
		g, ok := got.([]any)
		if !ok || len(g) != len(w) {
			c.t.Errorf("%s: got %v, want %v", path, got, want)
			return
		}
		for i := range w {
			c.value(fmt.Sprintf("%s[%d]", path, i), field, w[i], g[i])
		}
	case float64:
		g, ok := got.(float64)
		if !ok {
			c.t.Errorf("%s: got %v, want %v", path, got, w)
			return
		}
		c.number(path, field, w, g)
	default:
		c.t.Fatalf("%s: %T in the file", path, want)
	}
}

func (c *comparison) number(path, field string, want, got float64) {
	tol := c.tolerance(field, want)
	diff := math.Abs(got - want)
	c.n++
	if diff > tol {
		c.t.Errorf("%s: got %g, want %g ± %g", path, got, want, tol)
	}
	if tol > 0 && diff/tol > c.worst {
		c.worst, c.where = diff/tol, path
	}
}

// tolerance finds the file's own tolerance for a field: by its name, as a percentage, or by its kind. The last digit
// printed in the file is the least.
func (c *comparison) tolerance(field string, want float64) float64 {
	if t, ok := c.tol[field]; ok {
		return t
	}
	stem, _, _ := strings.Cut(field, "_")
	if t, ok := c.tol[stem+"_pct"]; ok {
		return t / 100 * math.Abs(want)
	}
	if t, ok := c.tol[stem]; ok && field != "V_R" {
		return t
	}
	_, pressures := c.tol["pressure_pct"]
	switch {
	case field == "net" || field == "roof_first_zone_net_kPa":
		if pressures {
			return max(c.tol["pressure_pct"]/100*math.Abs(want), c.tol["pressure_abs_kPa"])
		}
	case strings.HasSuffix(field, "_m"):
		if t, ok := c.tol["length_m"]; ok {
			return t
		}
	case strings.Contains(field, "_Kl_"):
		return c.tol["Cpe"]
	case field == "d_over_b" && c.tol["ratio"] > 0:
		return c.tol["ratio"]
	case pressures && strings.Contains("windward_wall leeward_wall roof_upwind_slope roof_downwind_slope roof_first_zone_Cpe", field):
		return c.tol["Cpe"]
	}
	return 1e-3 * max(math.Abs(want), 0.1) // no tolerance in the file: its rounding
}

// sets wants every listed set of factors among those generated.
func (c *comparison) sets(want, got map[string]any) {
	for state, list := range want {
		for _, w := range list.([]any) {
			found := false
			for _, g := range got[state].([]any) {
				a, _ := json.Marshal(w)
				b, _ := json.Marshal(g)
				found = found || string(a) == string(b)
			}
			c.n++
			if !found {
				c.t.Errorf("%s: %v was not generated", state, w)
			}
		}
	}
}

func TestCaseMistakes(t *testing.T) {
	table := NewTable(nil)
	for _, c := range []struct{ name, content, want string }{
		{"type", `{"type":"wind","inputs":{}}`, "the types are: regional wind speed"},
		{"input", `{"type":"shielding","inputs":{"h_m":5,"ns":6,"hs_m":5,"bs_m":15,"colour":1}}`, `input "colour" is not known here; the inputs are: h_m`},
		{"missing", `{"type":"shielding","inputs":{"h_m":5,"ns":6,"hs_m":5}}`, "bs_m is missing"},
		{"form", `{"type":"shielding","inputs":{"h_m":"tall","ns":6,"hs_m":5,"bs_m":1}}`, "h_m: give a number"},
		{"region", `{"type":"regional wind speed","inputs":{"pairs_region_R":[["Q",500]]}}`, "the regions are A0, A1"},
		{"New Zealand", `{"type":"regional wind speed","inputs":{"pairs_region_R":[["NZ1",500]]}}`, "not in the tables; give it"},
		{"surface", `{"type":"area reduction","inputs":{"pairs_surface_area":[["floor",5]]}}`, "give roof, side wall"},
		{"soil", `{"type":"earthquake base shear","inputs":{"Z":0.1,"annual_probability":"1/500","site_class":"Fe","kt":0.1,"hn_m":5}}`, "give one of Ae, Be"},
		{"JSON", `{`, "not a case in JSON"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := AnswerCase(table, nil, []byte(c.content))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want an error with %q", err, c.want)
			}
		})
	}
}

func FuzzAnswerCase(f *testing.F) {
	for _, c := range readChecks(f).Cases {
		raw, _ := json.Marshal(map[string]any{"type": c.Type, "inputs": c.Inputs})
		f.Add(raw)
	}
	f.Add([]byte(`{"type":"dominant opening","inputs":{"eaves_m":0,"span_m":0}}`))
	table := NewTable(nil)
	f.Fuzz(func(t *testing.T, content []byte) {
		a, err := AnswerCase(table, nil, content)
		if (a == nil) == (err == nil) {
			t.Errorf("answer %v with error %v", a, err)
		}
	})
}
