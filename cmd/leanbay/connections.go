package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"

	"leanbay/model/joints"
	"leanbay/optimize/shedspace"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// printConnections lists every kind of joint: what it must carry, how far it is looked after, what governs.
func printConnections(w io.Writer, a *shedspace.Assessment) {
	list := a.Connections
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(w, "\nConnections (design actions raised to the minimum of AS 4100 9.1.4; kN, kN·m; M inside: the inside or underside in tension)\n")
	fmt.Fprintf(w, "  %-18s %5s  %-15s %9s %9s %9s %9s %9s %11s  %s\n", "joint", "count", "status", "tension", "compr.", "shear", "M inside", "M outside", "utilisation", "governed by")
	for i := range list {
		j := &list[i]
		d := &j.Demand
		u, by := "", ""
		if j.Governs >= 0 {
			c := &j.Checks[j.Governs]
			u, by = fmt.Sprintf("%.3f", c.Utilisation), fmt.Sprintf("%s, %s, %s", c.Name, c.Member, under(c.In, c.Alone))
		}
		fmt.Fprintf(w, "  %-18s %5d  %-15s %9.1f %9.1f %9.1f %9.1f %9.1f %11s  %s\n", j.Kind, j.Count, j.Status,
			checks.KN(d.Tension.Value), checks.KN(d.Compression.Value), checks.KN(math.Max(d.Shear.Value, d.Across.Value)), checks.KNm(d.Inside.Value), checks.KNm(d.Outside.Value), u, by)
	}
	for i := range list {
		if j := &list[i]; j.Status != joints.ToBeDesigned {
			fmt.Fprintf(w, "  %s: %s\n", j.Kind, j.Detail)
			for _, n := range j.NotDone {
				fmt.Fprintf(w, "    - not covered: %s\n", n)
			}
		}
	}
	if h := &a.Holding; h.Force > 0 {
		fmt.Fprintf(w, "  purlins that hold rafters carry up to %.1f kN along them to the bracing (AS 4100 5.4.3) under %s; with it as a strut the purlin is at %.3f: %s\n",
			checks.KN(h.Force), h.Combination, h.Purlin.Utilisation, h.Purlin.Name)
		if h.Purlin.Utilisation > 1 {
			fmt.Fprintf(w, "    beyond 1: the strut beside the anchor is to take that force, by its cleats, or the purlin there is to be heavier\n")
		}
	}
	fmt.Fprintf(w, "  --joint NAME shows one kind with its extremes and working.\n")
}

// under names a combination, and says where a frame was found alone.
func under(in string, alone bool) string {
	switch {
	case in == "":
		return "minimum design action"
	case alone:
		return in + " (frame alone)"
	}
	return in
}

// printFootings lists what each base gives to the ground.
func printFootings(w io.Writer, a *shedspace.Assessment) {
	if len(a.Footings) == 0 {
		return
	}
	fmt.Fprintf(w, "\nFootings (strength and stability combinations; concrete: what holds the uplift at 0.9 of its weight)\n")
	fmt.Fprintf(w, "  %-28s %9s %9s %9s %10s %9s %9s %9s  %s\n", "base", "down kN", "uplift kN", "side kN", "concr. kg", "m³", "area m²", "pad", "uplift under")
	for i := range a.Footings {
		f := &a.Footings[i]
		area, pad := "", ""
		if f.Area > 0 {
			area = fmt.Sprintf("%.2f", f.Area)
		}
		if len(f.Checks) > 0 {
			pad = fmt.Sprintf("%.3f", f.Utilisation())
		}
		fmt.Fprintf(w, "  %-28s %9.1f %9.1f %9.1f %10.0f %9.2f %9s %9s  %s\n", f.Name, checks.KN(f.Push.Value), checks.KN(f.Pull.Value), checks.KN(f.Sideways.Value),
			f.Concrete, f.Volume, area, pad, f.Pull.Combination)
		for _, c := range f.Checks {
			fmt.Fprintf(w, "    %-40s %-34s %8.3f  %s\n", c.Name, c.Clause, c.Utilisation, under(c.In, c.Alone))
		}
		switch {
		case math.IsInf(f.Friction, 0):
			fmt.Fprintf(w, "    sliding: the pad lifts under some combination for stability, so that no friction holds it\n")
		case f.Friction > 0:
			fmt.Fprintf(w, "    sliding needs a friction coefficient of %.2f, or a slab that holds the pad\n", f.Friction)
		}
	}
	for _, n := range a.FootingNotes {
		fmt.Fprintf(w, "  %s\n", n)
	}
	if a.Footings[0].Area == 0 {
		fmt.Fprintf(w, "  bearing: site.ground_bearing is not given, so areas are not sized\n")
	}
}

// printFloors says how lively the floors are.
func printFloors(w io.Writer, list []shedspace.FloorResult) {
	for i := range list {
		f := &list[i]
		if f.Frequency == 0 {
			continue
		}
		fmt.Fprintf(w, "  floor %s: first frequency %.1f Hz (beams %.1f, joists %.1f)", f.Name, f.Frequency, f.Beams, f.Joists)
		if f.Lively() {
			fmt.Fprint(w, ": under 8 Hz, so that the 1 kN test does not settle its vibration; have it assessed")
		}
		fmt.Fprintln(w)
	}
}

// printJoint shows one kind of joint with its extremes and working.
func printJoint(w io.Writer, j *joints.Joint) error {
	fmt.Fprintf(w, "%s: %d joints, %s\n  %s\n", j.Kind, j.Count, j.Status, j.Detail)
	if j.Clearing != "" {
		fmt.Fprintf(w, "  minimum design action, AS 4100 9.1.4: %s\n", j.Clearing)
	}
	fmt.Fprintln(w)
	d := &j.Demand
	for _, e := range []struct {
		name, unit string
		x          *joints.Extreme
	}{
		{"tension", "kN", &d.Tension}, {"compression", "kN", &d.Compression}, {"shear along the web", "kN", &d.Shear}, {"shear across the web", "kN", &d.Across},
		{"moment, inside in tension", "kN·m", &d.Inside}, {"moment, outside in tension", "kN·m", &d.Outside}, {"moment about the minor axis", "kN·m", &d.Minor},
	} {
		if e.x.Value == 0 {
			continue
		}
		at := under(e.x.Combination, e.x.Alone)
		if e.x.Minimum != "" {
			at = "the minimum, " + e.x.Minimum
		}
		fmt.Fprintf(w, "  %-28s %9.2f %-5s %-28s %s\n", e.name, e.x.Value/1e3, e.unit, e.x.Member, at)
	}
	if len(j.Checks) > 0 {
		fmt.Fprintf(w, "\n  %-42s %-28s %11s  %-28s %s\n", "check", "clause", "utilisation", "at", "combination")
	}
	for _, c := range j.Checks {
		fmt.Fprintf(w, "  %-42s %-28s %11.3f  %-28s %s\n", c.Name, c.Clause, c.Utilisation, c.Member, under(c.In, c.Alone))
	}
	for _, n := range j.NotDone {
		fmt.Fprintf(w, "  - not covered: %s\n", n)
	}
	if err := j.Working.WriteText(w); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\n%s\n", solver.Caution)
	return err
}

// jointAnswer is a kind of joint in the JSON form: forces in kN, moments in kN·m.
type jointAnswer struct {
	Joint       string         `json:"joint"`
	Count       int            `json:"count"`
	Status      joints.Status  `json:"status"`
	Detail      string         `json:"detail"`
	Minimum     string         `json:"minimum_design_action,omitempty"`
	Demand      []demandAnswer `json:"demand"`
	Checks      []checkAnswer  `json:"checks,omitempty"`
	Utilisation float64        `json:"utilisation,omitempty"`
	NotCovered  []string       `json:"not_covered,omitempty"`
}

type demandAnswer struct {
	Action      string  `json:"action"`
	Value       float64 `json:"value"`
	Unit        string  `json:"unit"`
	Member      string  `json:"member"`
	Combination string  `json:"combination,omitempty"`
	FrameAlone  bool    `json:"frame_alone,omitempty"`
	Minimum     string  `json:"minimum,omitempty"`
}

type checkAnswer struct {
	Check       string  `json:"check"`
	Clause      string  `json:"clause"`
	Utilisation float64 `json:"utilisation"`
	At          string  `json:"at"`
	Combination string  `json:"combination,omitempty"`
	FrameAlone  bool    `json:"frame_alone,omitempty"`
}

func jointAnswers(list []joints.Joint) []jointAnswer {
	var out []jointAnswer
	for i := range list {
		j := &list[i]
		ja := jointAnswer{Joint: string(j.Kind), Count: j.Count, Status: j.Status, Detail: j.Detail, Minimum: j.Clearing, Utilisation: j.Utilisation(), NotCovered: j.NotDone, Checks: checkAnswers(j.Checks)}
		d := &j.Demand
		for _, e := range []struct {
			name, unit string
			x          *joints.Extreme
		}{
			{"tension", "kN", &d.Tension}, {"compression", "kN", &d.Compression}, {"shear along the web", "kN", &d.Shear}, {"shear across the web", "kN", &d.Across},
			{"moment, inside in tension", "kN·m", &d.Inside}, {"moment, outside in tension", "kN·m", &d.Outside}, {"moment about the minor axis", "kN·m", &d.Minor},
		} {
			if e.x.Value != 0 {
				ja.Demand = append(ja.Demand, demandAnswer{e.name, e.x.Value / 1e3, e.unit, e.x.Member, e.x.Combination, e.x.Alone, e.x.Minimum})
			}
		}
		out = append(out, ja)
	}
	return out
}

func checkAnswers(list []joints.Check) []checkAnswer {
	var out []checkAnswer
	for _, c := range list {
		out = append(out, checkAnswer{c.Name, c.Clause, c.Utilisation, c.Member, c.In, c.Alone})
	}
	return out
}

// footingAnswer is a footing in the JSON form. Friction is left out where no friction holds the pad.
type footingAnswer struct {
	Base     string        `json:"base"`
	Down     float64       `json:"down_kN"`
	Uplift   float64       `json:"uplift_kN"`
	UpliftIn string        `json:"uplift_combination,omitempty"`
	Sideways float64       `json:"sideways_kN"`
	Moment   float64       `json:"moment_kNm,omitempty"`
	Concrete float64       `json:"concrete_kg"`
	Volume   float64       `json:"concrete_m3"`
	Area     float64       `json:"area_m2,omitempty"`
	PadMass  float64       `json:"pad_kg,omitempty"`
	Friction *float64      `json:"friction_needed,omitempty"`
	Checks   []checkAnswer `json:"checks,omitempty"`
}

func footingAnswers(list []joints.Footing) []footingAnswer {
	var out []footingAnswer
	for i := range list {
		f := &list[i]
		fa := footingAnswer{f.Name, checks.KN(f.Push.Value), checks.KN(f.Pull.Value), f.Pull.Combination, checks.KN(f.Sideways.Value), checks.KNm(f.Turning.Value),
			f.Concrete, f.Volume, f.Area, f.PadMass, nil, checkAnswers(f.Checks)}
		if f.Friction > 0 && !math.IsInf(f.Friction, 0) {
			fa.Friction = &f.Friction
		}
		out = append(out, fa)
	}
	return out
}

// holdingAnswer is what purlins that hold rafters carry, in the JSON form.
type holdingAnswer struct {
	Force       float64 `json:"force_kN"`
	Combination string  `json:"combination"`
	Utilisation float64 `json:"purlin_utilisation"`
}

func newHolding(a *shedspace.Assessment) *holdingAnswer {
	if a.Holding.Force == 0 {
		return nil
	}
	return &holdingAnswer{checks.KN(a.Holding.Force), a.Holding.Combination, a.Holding.Purlin.Utilisation}
}

// printRestraints prints the restraint map: for every member and flange where it is held and by what, and the segments.
func printRestraints(w io.Writer, list []shedspace.HeldMember) error {
	fmt.Fprintln(w, "Restraint map (F full, P partial, L lateral; segments for the flange when it is in compression, U: free end)")
	for i := range list {
		h := &list[i]
		fmt.Fprintf(w, "\n%s: %s %s, %.3f m\n", h.ID, h.Section.Name, h.Grade.Name, h.Length)
		if h.Outside != "" {
			fmt.Fprintf(w, "  no segments: %s\n", h.Outside)
		}
		for f, name := range []string{"outer flange", "inner flange"} {
			fl := &h.Flanges[f]
			fmt.Fprintf(w, "  %s\n", name)
			for _, r := range fl.Held {
				fmt.Fprintf(w, "    %8.3f m  %c  %s\n", r.Station, r.Kind, r.Source)
			}
			if len(fl.Held) == 0 {
				fmt.Fprintf(w, "    held nowhere\n")
			}
			for _, s := range fl.Segments {
				fmt.Fprintf(w, "    segment %.3f to %.3f m: %.3f m, ends %s, Le %.3f m\n", s.From, s.To, s.To-s.From, endsText(s.Ends), s.Le)
			}
		}
	}
	_, err := fmt.Fprintf(w, "\n%s\n", solver.Caution)
	return err
}

// endsText writes the classes of a segment's ends: "FP".
func endsText(e as4100.Ends) string { return string([]byte{e.I, e.J}) }

// heldAnswer is one flange of the restraint map in the JSON form.
type heldAnswer struct {
	Member   string          `json:"member"`
	Flange   string          `json:"flange"`
	Held     []heldAt        `json:"held"`
	Segments []segmentAnswer `json:"segments"`
	Outside  string          `json:"outside,omitempty"`
}

type heldAt struct {
	At     float64 `json:"at_m"`
	Class  string  `json:"class"`
	Source string  `json:"by"`
}

type segmentAnswer struct {
	From   float64 `json:"from_m"`
	To     float64 `json:"to_m"`
	Length float64 `json:"length_m"`
	Ends   string  `json:"ends"`
	Le     float64 `json:"effective_length_m"`
}

// restraintsJSON is the restraint map with the caution.
func restraintsJSON(w io.Writer, list []shedspace.HeldMember) error {
	out := struct {
		Caution    string       `json:"caution"`
		Restraints []heldAnswer `json:"restraints"`
	}{Caution: solver.Caution}
	for i := range list {
		h := &list[i]
		for f, name := range []string{"outer", "inner"} {
			a := heldAnswer{Member: h.ID, Flange: name, Outside: h.Outside, Held: []heldAt{}, Segments: []segmentAnswer{}}
			for _, r := range h.Flanges[f].Held {
				a.Held = append(a.Held, heldAt{r.Station, string(r.Kind), r.Source})
			}
			for _, s := range h.Flanges[f].Segments {
				a.Segments = append(a.Segments, segmentAnswer{s.From, s.To, s.To - s.From, endsText(s.Ends), s.Le})
			}
			out.Restraints = append(out.Restraints, a)
		}
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}
