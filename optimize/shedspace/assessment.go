package shedspace

import (
	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/model/shed"
	"leanbay/solver/checks"
)

// The classes of variants that cannot stand on the front, by how badly they fail (later is worse).
const (
	ClassRanked    = 0 // complies, or fails in strength by at most a quarter: a stepping stone
	ClassFailing   = 1
	ClassUnstable  = 2 // beyond critical or not converged
	ClassMechanism = 3
)

// stoneLimit is the greatest utilisation of a stepping stone; floorU clips the objective: no reward for more reserve
// than that.
const (
	stoneLimit = 1.25
	floorU     = 0.80
)

// Assessment is what is said of one design. Lengths are in m, forces in N, masses in kg.
type Assessment struct {
	Design *shed.Design
	Key    string
	Mass   shed.Mass

	secondaries shed.SecondarySections
	Findings    []shed.Finding

	Stable    bool
	Mechanism string   // in words, where a combination finds one
	Trouble   []string // combinations beyond critical or not converged, in words
	LambdaC   float64  // least elastic buckling load factor found; 0 where none was sought, or in the search none lies below the limit
	LambdaIn  string   // its combination

	whole   map[string]float64 // utilisations of groups in the whole shed
	Groups  []GroupResult      // strength and stability, by group, worst first within the list's order
	Service []ServiceResult
	Rules   []RuleResult // buildability: pieces, distinct sections

	U         float64 // greatest radial utilisation for strength and stability
	Violation float64 // Σ over groups of max(0, u-1), each capped at 2
	Class     int
	Complies  bool
	Governing *GroupResult

	Feet         []FootReactions  // of a full assessment
	Connections  []joints.Joint   // of a full assessment
	Footings     []joints.Footing // likewise
	FootingNotes []string
	Holding      HoldingForce // of a full assessment
	DetailFails  []string     // stated connections and pads that are too weak: of what was drawn only
	Floors       []FloorResult
	Combinations int // strength combinations analysed
	Iterations   int // of all of them together
}

// GroupResult is the governing check of one group.
type GroupResult struct {
	Group       string
	Member      string
	Combination string
	Alone       bool // found with the frame as a plane frame by itself
	checks.Result
}

// ServiceResult is one service limit: the worst place and combination.
type ServiceResult struct {
	Limit       string // "eaves sway, H/150"
	Where       string
	Combination string
	Value       float64 // m
	Allowed     float64 // m
	Utilisation float64
}

// RuleResult is one buildability rule.
type RuleResult struct {
	Rule        string
	Text        string
	Utilisation float64
}

// FootReactions is the envelope of one base over the strength combinations: what the footing gives the structure (N).
type FootReactions struct {
	Name             string
	Up, Down         float64 // greatest push on the footing, greatest pull from it (both positive)
	AlongX, AcrossY  float64 // greatest magnitudes
	UpIn, DownIn     string  // combinations
	MomentX, MomentY float64
}

// begin empties a for a design, and keeps its storage.
func (a *Assessment) begin(d *shed.Design) {
	clear(a.whole)
	*a = Assessment{Design: d, Stable: true, Mass: shed.Mass{Groups: a.Mass.Groups}, whole: a.whole,
		Groups: a.Groups[:0], Service: a.Service[:0], Rules: a.Rules[:0], Floors: a.Floors[:0]}
}

// groupIndex finds or adds the entry of a group.
func (a *Assessment) groupIndex(g string) int {
	for i := range a.Groups {
		if a.Groups[i].Group == g {
			return i
		}
	}
	a.Groups = append(a.Groups, GroupResult{Group: g})
	return len(a.Groups) - 1
}

// note keeps r if it is the worst of its group.
func (a *Assessment) note(group, member, combination string, alone bool, r checks.Result) {
	i := a.groupIndex(group)
	if r.Utilisation > a.Groups[i].Utilisation || a.Groups[i].Member == "" {
		a.Groups[i] = GroupResult{group, member, combination, alone, r}
	}
}

// isSecondary tells the groups that are sized by the table of secondaries.
var isSecondary = func() map[string]bool {
	out := map[string]bool{}
	for _, g := range brief.Groups {
		if g.Secondary {
			out[string(g.Name)] = true
		}
	}
	return out
}()

// missingLink is what a missing link of the load path adds to the violation: as much as a member at twice its capacity.
const missingLink = 1.0

// clearlyFails says whether some group is beyond what a stepping stone may have.
func (a *Assessment) clearlyFails() bool {
	for i := range a.Groups {
		if a.Groups[i].Utilisation > stoneLimit {
			return true
		}
	}
	return false
}

// excess is what a utilisation adds to the violation.
func excess(u float64) float64 { return min(max(0, u-1), 2) }

// Verdict says in a few words what the assessment comes to.
func (a *Assessment) Verdict() string {
	switch {
	case a.Class == ClassMechanism:
		return "a mechanism"
	case a.Class == ClassUnstable:
		return "not stable under some combinations"
	case a.Complies:
		return "complies"
	case a.Class == ClassRanked && a.U <= 1 && len(a.DetailFails) > 0:
		return "a connection or footing as detailed is too weak"
	case a.missing() > 0:
		return "a link of the load path is missing"
	case a.U > 1:
		return "too weak"
	}
	return "beyond a service or building limit"
}

// missing counts the links that are not there.
func (a *Assessment) missing() int {
	n := 0
	for _, f := range a.Findings {
		if f.Missing {
			n++
		}
	}
	return n
}

// Says completes a sentence that begins with the design.
func (a *Assessment) Says() string {
	switch {
	case a.Class == ClassMechanism:
		return "is a mechanism: it cannot stand"
	case a.Class == ClassUnstable:
		return "is not stable under some combinations"
	case a.Complies:
		return "complies"
	}
	return "does not comply: " + a.Verdict()
}
