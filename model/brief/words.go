package brief

import "reflect"

// Region is a wind region of AS/NZS 1170.2:2021.
type Region string

// State is an Australian state or territory, or New Zealand.
type State string

// SoilClass is a site sub-soil class of AS 1170.4.
type SoilClass string

// RoofShape is the roof's form.
type RoofShape string

// The roof forms that are covered.
const (
	Gable     RoofShape = "gable"
	MonoPitch RoofShape = "mono-pitch"
)

// Wall names a side of the shed by the building's own compass: the south wall is Y = 0, the west gable X = 0.
type Wall string

// The four sides.
const (
	South Wall = "south"
	North Wall = "north"
	West  Wall = "west"
	East  Wall = "east"
)

// Long says whether w is a long wall; else it is a gable.
func (w Wall) Long() bool { return w == South || w == North }

// OpeningKind is a kind of door or window.
type OpeningKind string

// The kinds of openings.
const (
	RollerDoor    OpeningKind = "roller door"
	SlidingDoor   OpeningKind = "sliding door"
	PersonnelDoor OpeningKind = "personnel door"
	Window        OpeningKind = "window"
)

// DoorState says what an opening can be in the design wind.
type DoorState string

// The states: shut whatever happens (rated), may be open, may fail under wind.
const (
	StaysShut DoorState = "stays shut"
	MayBeOpen DoorState = "may be open"
	MayFail   DoorState = "may fail"
)

// FloorUse is what a mezzanine is used for.
type FloorUse string

// The uses that have imposed loads of their own.
const (
	Office    FloorUse = "office"
	Workroom  FloorUse = "workroom"
	Workshop  FloorUse = "workshop"
	Storage   FloorUse = "storage"
	FileRoom  FloorUse = "file room"
	ShopFloor FloorUse = "shop"
	PlantRoom FloorUse = "plant"
)

// Pattern is a way to brace a panel of a wall or roof.
type Pattern string

// The bracing patterns.
const (
	NoBracing     Pattern = "none"
	CrossedRods   Pattern = "crossed rods"
	SingleStrut   Pattern = "single diagonal"
	TwoTier       Pattern = "two-tier"
	VBrace        Pattern = "V"
	InvertedV     Pattern = "inverted V"
	KneeBrace     Pattern = "knee braces"
	PortalisedBay Pattern = "portalised bay"
	ZigZag        Pattern = "zig-zag" // roof plane only: single diagonals, alternating
)

// BaseKind is how a foot is held against rotation.
type BaseKind string

// The kinds of bases.
const (
	PinnedBase BaseKind = "pinned"
	FixedBase  BaseKind = "fixed"
	SpringBase BaseKind = "spring"
)

// Breadth says how much the search may vary by default.
type Breadth string

// The two sets of defaults.
const (
	Narrow Breadth = "narrow"
	Wide   Breadth = "wide"
)

// FrameRule says which analysis of the inner frames governs.
type FrameRule string

// Inner frames in the whole shed, alone as plane frames, or the worse of both.
const (
	WorseGoverns FrameRule = "worse"
	WholeShed    FrameRule = "whole shed"
	FrameAlone   FrameRule = "alone"
)

// Objective is something that the search minimises (or, for wind reserve, maximises).
type Objective string

// The objectives.
const (
	ObjMass        Objective = "mass"
	ObjCompliance  Objective = "compliance"
	ObjCost        Objective = "cost"
	ObjSections    Objective = "distinct sections"
	ObjConnections Objective = "connections"
	ObjDepartures  Objective = "departures"
	ObjSway        Objective = "sway"
	ObjWindReserve Objective = "wind reserve"
)

// WhatIf is a change under which a variant is scored again.
type WhatIf string

// The changes.
const (
	DoorOpen    WhatIf = "door open"
	PropLost    WhatIf = "prop lost"
	NextTerrain WhatIf = "next terrain"
	FloorLoad   WhatIf = "floor load"
	BaseSpring  WhatIf = "base spring"
	Settlement  WhatIf = "settlement"
	OneSlackRod WhatIf = "slack rod"
	AllWhatIfs  WhatIf = "all"
	NoWhatIfs   WhatIf = "none"
)

// Group names members that share a section unless the freedoms say otherwise.
type Group string

// The groups of members.
const (
	GroupColumn       Group = "column"
	GroupRafter       Group = "rafter"
	GroupEndColumn    Group = "end column"
	GroupEndRafter    Group = "end rafter"
	GroupMullion      Group = "mullion"
	GroupProp         Group = "prop"
	GroupBeam         Group = "mezzanine beam"
	GroupPost         Group = "post"
	GroupJoist        Group = "joist"
	GroupEavesStrut   Group = "eaves strut"
	GroupRidgeStrut   Group = "ridge strut"
	GroupNodeStrut    Group = "node strut"
	GroupWallRod      Group = "wall rod"
	GroupRoofRod      Group = "roof rod"
	GroupWallDiagonal Group = "wall diagonal"
	GroupRoofDiagonal Group = "roof diagonal"
	GroupKneeBrace    Group = "knee brace"
	GroupPortalColumn Group = "portal column"
	GroupPortalBeam   Group = "portal beam"
	GroupPurlin       Group = "purlin"
	GroupGirt         Group = "girt"
	GroupJamb         Group = "jamb"
	GroupLintel       Group = "lintel"
)

// GroupInfo is one row of Groups.
type GroupInfo struct {
	Name      Group
	Doc       string
	Secondary bool // sized from the table of secondaries, outside the search
}

// Groups lists every group in the order of tables and reports.
var Groups = []GroupInfo{
	{GroupColumn, "Columns of the inner frames, and of the end frames unless 'end column' is given.", false},
	{GroupRafter, "Rafters of the inner frames, and of the end frames unless 'end rafter' is given.", false},
	{GroupEndColumn, "Corner columns of the two end frames.", false},
	{GroupEndRafter, "Rafters of the two end frames.", false},
	{GroupMullion, "Gable columns between the corners, from the floor to the end rafter.", false},
	{GroupProp, "Inner columns under a rafter.", false},
	{GroupBeam, "Primary beams of the mezzanines, edge beams included.", false},
	{GroupPost, "Posts under mezzanine beams.", false},
	{GroupJoist, "Joists of the mezzanines.", true},
	{GroupEavesStrut, "Struts along the eaves, in every bay.", false},
	{GroupRidgeStrut, "Struts along the ridge, in every bay.", false},
	{GroupNodeStrut, "Struts at the other nodes of the roof bracing.", false},
	{GroupWallRod, "Rods of crossed wall bracing.", false},
	{GroupRoofRod, "Rods of crossed roof bracing.", false},
	{GroupWallDiagonal, "Diagonals of wall bracing that work in tension and compression.", false},
	{GroupRoofDiagonal, "Diagonals of roof bracing that work in tension and compression.", false},
	{GroupKneeBrace, "Knee braces in the wall plane.", false},
	{GroupPortalColumn, "Columns of a portalised bay in the wall plane.", false},
	{GroupPortalBeam, "Beams of a portalised bay in the wall plane.", false},
	{GroupPurlin, "Purlins, under the roof cladding.", true},
	{GroupGirt, "Girts, behind the wall cladding.", true},
	{GroupJamb, "Jambs of doors and windows.", true},
	{GroupLintel, "Lintels over doors.", true},
}

// vocabulary lists the words that each type allows, in the order of messages and schema.
var vocabulary = map[reflect.Type][]string{
	reflect.TypeFor[Region]():      {"A0", "A1", "A2", "A3", "A4", "A5", "B1", "B2", "C", "D", "NZ1", "NZ2", "NZ3", "NZ4"},
	reflect.TypeFor[State]():       {"ACT", "NSW", "NT", "QLD", "SA", "TAS", "VIC", "WA", "NZ"},
	reflect.TypeFor[SoilClass]():   {"Ae", "Be", "Ce", "De", "Ee"},
	reflect.TypeFor[RoofShape]():   words(Gable, MonoPitch),
	reflect.TypeFor[Wall]():        words(South, North, West, East),
	reflect.TypeFor[OpeningKind](): words(RollerDoor, SlidingDoor, PersonnelDoor, Window),
	reflect.TypeFor[DoorState]():   words(StaysShut, MayBeOpen, MayFail),
	reflect.TypeFor[FloorUse]():    words(Office, Workroom, Workshop, Storage, FileRoom, ShopFloor, PlantRoom),
	reflect.TypeFor[Pattern](): words(NoBracing, CrossedRods, SingleStrut, TwoTier, VBrace, InvertedV, KneeBrace,
		PortalisedBay, ZigZag),
	reflect.TypeFor[BaseKind]():  words(PinnedBase, FixedBase, SpringBase),
	reflect.TypeFor[Breadth]():   words(Narrow, Wide),
	reflect.TypeFor[FrameRule](): words(WorseGoverns, WholeShed, FrameAlone),
	reflect.TypeFor[Objective](): words(ObjMass, ObjCompliance, ObjCost, ObjSections, ObjConnections, ObjDepartures,
		ObjSway, ObjWindReserve),
	reflect.TypeFor[WhatIf](): words(AllWhatIfs, NoWhatIfs, DoorOpen, PropLost, NextTerrain, FloorLoad, BaseSpring,
		Settlement, OneSlackRod),
	reflect.TypeFor[ActionKind](): {"G", "Gx", "Qr", "Qf", "Wu", "Ws", "S", "E", "H"}, // solver.CaseKind
	reflect.TypeFor[Group]():      groupNames(),
}

// words turns typed words into plain ones.
func words[T ~string](ws ...T) []string {
	out := make([]string, len(ws))
	for i, w := range ws {
		out[i] = string(w)
	}
	return out
}

// groupNames lists the names of Groups.
func groupNames() []string {
	out := make([]string, len(Groups))
	for i, g := range Groups {
		out[i] = string(g.Name)
	}
	return out
}
