package asnzs1170

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/model/actions"
)

// Answer holds the fields of one clause's case by name: numbers, lists and objects of numbers, in the file's units.
type Answer map[string]any

// caseType is one kind of case: the inputs that it knows and what it answers.
type caseType struct {
	name   string
	inputs string // separated by spaces
	answer func(*Table, *actions.Working, *inputs) Answer
}

// caseTypes lists every kind of case, in the order of help.
func caseTypes() []caseType {
	return []caseType{
		{"regional wind speed", "pairs_region_R region R_years", regionalCase},
		{"terrain/height multiplier", "pairs_TC_z region terrain_category z_m h_m", terrainCase},
		{"site wind speed", siteInputs + "bearing_deg", siteCase},
		{"building pressures", siteInputs + shapeInputs + "Cpi_cases", pressureCase},
		{"dominant opening", siteInputs + shapeInputs + "dominant_opening_m2 other_open_area_m2 opening_face_Cpe Kl_at_opening Ka_opening opening_surface internal_volume_m3 Kv", openingCase},
		{"shielding", "h_m ns hs_m bs_m upwind_slope", shieldingCase},
		{"topography", "H_m Lu_m x_m z_m feature side_of_crest region elevation_m", hillCase},
		{"frictional drag", "b_m d_m h_m q_kPa Cf roof Kc_e Ka", frictionCase},
		{"local pressure", "b_m d_m h_m roof_pitch_deg roof_edge_Cpe side_wall_Cpe windward_wall_Cpe", localCase},
		{"area reduction", "pairs_surface_area", areaCase},
		{"roof imposed action", "areas_m2 roof_use", roofImposedCase},
		{"earthquake base shear", "Z annual_probability site_class kt hn_m Sp_over_mu Sp mu Wt_kN kp T1_s Ch_T1", earthquakeCase},
		{"geometry and Ka", "eaves_m span_m length_m pitch_deg frame_spacing_m wind tributary_areas_m2", geometryCase},
		{"combinations", "psi_floor_s_l_c_E roof snow", combinationsCase},
	}
}

const (
	siteInputs = "region R_years V_R Mc terrain_category M_zcat Md Ms Mt V_des q_kPa h_m eaves_m ridge_m extra_height_m " +
		"span_m length_m plan_m pitch_deg roof wind openings "
	shapeInputs = "Ka Kc_e Kc_i Kl Kp Cdyn "
)

// AnswerCase answers one clause's case: content is a JSON object with "type" and "inputs" (other keys are ignored). A
// multiplier given in the inputs is used as given. An unknown type or input, and an input that is missing, of the wrong
// form or out of range, is an error. w records the working and may be nil.
func AnswerCase(t *Table, w *actions.Working, content []byte) (Answer, error) {
	var file struct {
		Type   string                     `json:"type"`
		Inputs map[string]json.RawMessage `json:"inputs"`
	}
	if err := json.Unmarshal(content, &file); err != nil {
		return nil, fmt.Errorf("not a case in JSON: %w", err)
	}
	var names []string
	for _, c := range caseTypes() {
		names = append(names, c.name)
		if c.name != file.Type {
			continue
		}
		in := &inputs{raw: file.Inputs}
		in.checkNames(strings.Fields(c.inputs))
		w.Part(c.name)
		a := c.answer(t, w, in)
		if len(in.errs) > 0 {
			return nil, errors.Join(in.errs...)
		}
		if _, err := json.Marshal(a); err != nil {
			return nil, fmt.Errorf("these inputs have no finite answer (%v); check for zeros", err)
		}
		return a, nil
	}
	return nil, fmt.Errorf("type %q is not known; the types are: %s", file.Type, strings.Join(names, ", "))
}

// inputs reads a case's inputs by name and collects mistakes.
type inputs struct {
	raw  map[string]json.RawMessage
	errs []error
}

func (in *inputs) bad(format string, a ...any) { in.errs = append(in.errs, fmt.Errorf(format, a...)) }

func (in *inputs) checkNames(known []string) {
	for _, name := range sortedKeys(in.raw) {
		if !slices.Contains(known, name) {
			in.bad("input %q is not known here; the inputs are: %s", name, strings.Join(known, ", "))
		}
	}
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func (in *inputs) has(name string) bool { _, ok := in.raw[name]; return ok }

// allow reports whether all names are given: a field that rests on them is otherwise absent.
func (in *inputs) allow(names ...string) bool {
	for _, n := range names {
		if !in.has(n) {
			return false
		}
	}
	return true
}

// into decodes an input; it says whether it was given and of the right form.
func (in *inputs) into(name, form string, to any) bool {
	raw, ok := in.raw[name]
	if !ok {
		return false
	}
	if err := json.Unmarshal(raw, to); err != nil {
		in.bad("%s: give %s", name, form)
		return false
	}
	return true
}

// or is a number, or otherwise where it is not given.
func (in *inputs) or(name string, otherwise float64) float64 {
	v := otherwise
	if in.into(name, "a number", &v) {
		return v
	}
	return otherwise
}

// need is a number that must be given, from lo to hi.
func (in *inputs) need(name string, lo, hi float64) float64 {
	if !in.has(name) {
		in.bad("%s is missing", name)
		return lo
	}
	return in.within(name, in.or(name, lo), lo, hi)
}

func (in *inputs) within(name string, v, lo, hi float64) float64 {
	if !(v >= lo && v <= hi) {
		in.bad("%s %g: give %g to %g", name, v, lo, hi)
		return lo
	}
	return v
}

// text is a text input, or otherwise.
func (in *inputs) text(name, otherwise string) string {
	v := otherwise
	in.into(name, "a text", &v)
	return v
}

// list is a number or a list of numbers; single says which it was.
func (in *inputs) list(name string) (vals []float64, single bool) {
	var one float64
	if raw, ok := in.raw[name]; ok && json.Unmarshal(raw, &one) == nil {
		return []float64{one}, true
	}
	in.into(name, "a number or a list of numbers", &vals)
	return vals, false
}

// pairs is a list of two-element lists; both are returned as raw values.
func (in *inputs) pairs(name string) [][2]json.RawMessage {
	var lists [][]json.RawMessage
	if !in.into(name, "a list of pairs", &lists) {
		return nil
	}
	var out [][2]json.RawMessage
	for i, l := range lists {
		if len(l) != 2 {
			in.bad("%s: entry %d has %d parts; give pairs", name, i+1, len(l))
			return nil
		}
		out = append(out, [2]json.RawMessage{l[0], l[1]})
	}
	return out
}

func (in *inputs) numberOf(name string, raw json.RawMessage) (v float64) {
	if json.Unmarshal(raw, &v) != nil {
		in.bad("%s: %s is not a number", name, raw)
	}
	return v
}

func (in *inputs) textOf(name string, raw json.RawMessage) (v string) {
	if json.Unmarshal(raw, &v) != nil {
		in.bad("%s: %s is not a text", name, raw)
	}
	return v
}

// keep notes an error that a clause returned.
func (in *inputs) keep(err error) {
	if err != nil {
		in.errs = append(in.errs, err)
	}
}

// shaped returns a single number for a single input, else the list.
func shaped(vals []float64, single bool) any {
	if single && len(vals) == 1 {
		return vals[0]
	}
	return vals
}

const (
	most     = 1e4 // m: no length of a case is longer
	steepest = 60  // degrees
)

var rad = math.Pi / 180

// Lines writes an answer for reading: one field a line, in alphabetical order.
func Lines(a Answer) []string {
	var out []string
	for _, k := range sortedKeys(a) {
		text, err := json.Marshal(a[k])
		if err != nil {
			text = fmt.Append(nil, a[k])
		}
		out = append(out, fmt.Sprintf("%-28s %s", k, text))
	}
	return out
}
