// Package joints reads what a shed's connections and bases must carry, and checks those whose detail is stated.
//
// In: a model of model/shed with its details, and the end forces and reactions of each combination. Out: for every kind
// of joint the governing design actions, raised to the minimum of AS 4100 9.1.4; the capacities of the stated detail, or
// the assumption that stands for it; and what each footing must hold. It knows no analysis and no search.
//
// # Signs
//
// N is positive in tension. V is the shear along the web, W across it. M bends about the major axis and is positive with
// the -y side in tension: the inside of columns and the underside of rafters. S bends about the minor axis.
package joints

import (
	"leanbay/model/brief"
	"leanbay/solver/checks"
)

// Kind is a place where members meet or stand.
type Kind string

// The kinds of joint, in the order of tables.
const (
	Eaves        Kind = "eaves"
	Ridge        Kind = "ridge"
	PropCap      Kind = "prop cap"
	MullionTop   Kind = "mullion top"
	BeamEnd      Kind = "mezzanine beam end"
	JoistEnd     Kind = "joist end"
	StrutEnd     Kind = "strut end"
	WallBraceEnd Kind = "wall brace end"
	RoofBraceEnd Kind = "roof brace end"
	ColumnBase   Kind = "column base"
	PropBase     Kind = "prop base"
	MullionBase  Kind = "mullion base"
	PostBase     Kind = "post base"
)

// kinds lists all kinds with where the brief states their detail.
var kinds = []struct {
	kind   Kind
	detail func(*brief.Details) *brief.Detail
}{
	{Eaves, func(d *brief.Details) *brief.Detail { return d.Eaves }},
	{Ridge, func(d *brief.Details) *brief.Detail { return d.Ridge }},
	{PropCap, func(d *brief.Details) *brief.Detail { return d.PropCap }},
	{MullionTop, func(d *brief.Details) *brief.Detail { return d.MullionTop }},
	{BeamEnd, func(d *brief.Details) *brief.Detail { return d.BeamEnd }},
	{JoistEnd, func(d *brief.Details) *brief.Detail { return d.JoistEnd }},
	{StrutEnd, func(d *brief.Details) *brief.Detail { return d.StrutEnd }},
	{WallBraceEnd, func(d *brief.Details) *brief.Detail { return d.WallBraceEnd }},
	{RoofBraceEnd, func(d *brief.Details) *brief.Detail { return d.RoofBraceEnd }},
	{ColumnBase, func(d *brief.Details) *brief.Detail { return d.ColumnBase }},
	{PropBase, func(d *brief.Details) *brief.Detail { return d.PropBase }},
	{MullionBase, func(d *brief.Details) *brief.Detail { return d.MullionBase }},
	{PostBase, func(d *brief.Details) *brief.Detail { return d.PostBase }},
}

// indexOf is the place of a kind in kinds.
func indexOf(k Kind) int {
	for i := range kinds {
		if kinds[i].kind == k {
			return i
		}
	}
	panic("joints: no kind " + string(k))
}

// base says whether a kind stands on the ground.
func (k Kind) base() bool { return indexOf(k) >= indexOf(ColumnBase) }

// Status says how far a kind of joint is looked after.
type Status string

// A joint is checked where its detail is stated and its checks need nothing more; assumed where the analysis rests on a
// full-strength joint that is still to be detailed; and else to be designed for its actions.
const (
	Checked      Status = "checked"
	CheckedPart  Status = "checked in part"
	Assumed      Status = "assumed"
	ToBeDesigned Status = "to be designed"
)

// Action is what one joint carries under one combination (N and N·m; signs in the package comment).
type Action struct{ N, V, W, M, S float64 }

// scaled returns a times s.
func (a Action) scaled(s float64) Action { return Action{a.N * s, a.V * s, a.W * s, a.M * s, a.S * s} }

// Extreme is the greatest of one action over all joints of a kind and all combinations, as a magnitude.
type Extreme struct {
	Value       float64
	Member      string // the member, or the base
	Combination string
	Alone       bool   // found with the frame as a plane frame by itself
	Minimum     string // the clause of the minimum design action, where that is what Value is
}

// Demand is the envelope of a kind of joint.
type Demand struct {
	Tension, Compression Extreme // N
	Shear, Across        Extreme // N, along the web and across it
	Inside, Outside      Extreme // N·m, major axis, with the inside (underside) or the outside in tension
	Minor                Extreme // N·m, about the minor axis
}

// Check is the worst of one check over all joints of a kind.
type Check struct {
	checks.Result        // Combination is -1: see In
	Member        string // the member or base
	In            string // the combination; empty for a geometric rule
	Alone         bool
}

// Joint is one kind of joint: how many, what it must carry, and how its detail does.
type Joint struct {
	Kind     Kind
	Count    int
	Status   Status
	Detail   string // in words
	Demand   Demand
	Checks   []Check
	Working  checks.Working // of the governing joint and combination of every check
	NotDone  []string       // what the detail leaves out, or these checks do
	Governs  int            // index in Checks; -1 for none
	Clearing string         // the minimum design action of 9.1.4 that applies, in words
}

// Utilisation is the greatest of the joint's checks, 0 without any.
func (j *Joint) Utilisation() float64 {
	if j.Governs < 0 {
		return 0
	}
	return j.Checks[j.Governs].Utilisation
}

// Fails says whether a stated detail is too weak.
func (j *Joint) Fails() bool {
	return (j.Status == Checked || j.Status == CheckedPart) && j.Utilisation() > 1
}
