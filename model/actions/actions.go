// Package actions says what acts on a shed: the interface behind which each country's action codes sit, and the words
// they share (faces, patches of pressure, cases).
//
// In: a Building and a Site as plain numbers. Out: cases made of pressures on faces, and combinations with reasons. It
// does not know the brief's file form, nor members: model/shed turns patches into loads on members.
package actions

import (
	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// Face is one plane of the envelope. Points on it are (u, v): u is X on long walls and roofs, Y on gables; v is Z on
// walls and gables, Y on roofs. A mono-pitch roof is SouthRoof alone.
type Face int

// The faces of a shed. The south wall is Y = 0, the west gable X = 0.
const (
	SouthWall Face = iota
	NorthWall
	WestGable
	EastGable
	SouthRoof
	NorthRoof
	NumFaces
)

// String gives the face in words.
func (f Face) String() string {
	return [...]string{"south wall", "north wall", "west gable", "east gable", "south roof", "north roof"}[f]
}

// RoofShape is the roof's form.
type RoofShape string

// The roof forms that are covered.
const (
	Gable     RoofShape = "gable"
	MonoPitch RoofShape = "mono-pitch"
)

// DoorState says what an opening can be in the design wind.
type DoorState string

// The states of openings: shut whatever happens (rated), may be open, may fail under wind.
const (
	StaysShut DoorState = "stays shut"
	MayBeOpen DoorState = "may be open"
	MayFail   DoorState = "may fail"
)

// Opening is a rectangle in a wall or gable, in the face's (u, v), metres.
type Opening struct {
	Name           string // "south roller door at X 10.8"
	Face           Face
	U0, U1, V0, V1 float64
	Door           bool      // a door or shutter: when shut it spans to its jambs
	State          DoorState // empty counts as MayBeOpen
	LockPull       float64   // N per metre of jamb: the pull of wind locks in the ultimate wind, from the door's maker; 0 is none
}

// Floor is a mezzanine in plan.
type Floor struct {
	Name           string
	X0, X1, Y0, Y1 float64 // m
	Level          float64 // m, top of floor
	Use            string  // "office", "storage", … the pack's own table
	Imposed        float64 // Pa; 0 takes the table's
	Permanent      float64 // Pa, certain
	StoredHeight   float64 // m, of goods on a storage floor; 0 is not stated
}

// Building is the envelope and what is in it, as numbers (m, Pa).
type Building struct {
	FrameLines  []float64 // X of each frame, ascending from 0
	Span        float64
	EavesSouth  float64 // height of the wall's top at Y = 0
	EavesNorth  float64 // at Y = Span; equal to EavesSouth for a gable
	Ridge       float64 // height of the ridge (gable), or of the higher eaves (mono-pitch)
	RidgeY      float64 // Y of the ridge; for a mono-pitch, Y of the higher eaves
	Shape       RoofShape
	Openings    []Opening
	OpenFaces   []Face // walls that are left open
	Floors      []Floor
	RoofDead    float64 // Pa of slope area: sheeting, insulation, secondary steel where not modelled (certain)
	RoofExtra   float64 // Pa of plan area: services, panels, ceilings (possible)
	WallDead    float64 // Pa of wall area (certain)
	Permeable   [NumFaces]bool
	OpenAreas   [NumFaces]float64 // m² of leaks where the brief states them
	GroundSnow  float64           // Pa, characteristic; 0 is none
	SnowExposed float64           // exposure factor; 0 means the pack's default
}

// Site is where the shed stands.
type Site struct {
	Region          string // "A4"
	RegionalSpeed   map[int]float64
	ImportanceLevel int
	State           string  // where the building code varies its table by state
	Terrain         float64 // terrain category
	BearingX        float64 // rad clockwise from north: the compass bearing of +X
	Shielding       [8]float64
	Topographic     [8]float64 // by N, NE, E, … ; 0 is 1.0
	Direction       [8]float64 // overrides of the direction multiplier; 0 is the table's
	Hill            *Hill
	HazardFactor    float64 // Z
	SoilClass       string  // "De"
	Elevation       float64 // m above sea level
	NorthOfTropic   bool    // the site lies north of the Tropic of Capricorn
	DebrisRated     bool    // the envelope was shown to resist wind-borne debris
}

// Hill is a topographic feature for the hill-shape multiplier (m).
type Hill struct {
	Height, UpwindHalf, Distance float64
	Escarpment, Downwind         bool
}

// Patch is a uniform action on a rectangle of a face, cut off at the face's outline (gable ends are not rectangles). The
// patches of a case tile each loaded face: no gap, no overlap. An open face carries none.
type Patch struct {
	Face           Face
	U0, U1, V0, V1 float64
	Pressure       float64 // Pa, net, positive towards the surface from outside
	Traction       r3.Vec  // Pa, global, besides the pressure: gravity per area, friction
	PlanArea       bool    // Traction is per plan area instead of true surface area
	Note           string  // "roof 0-1h, Cpe -0.9"
}

// FloorPatch is a gravity load on a rectangle of a floor (Pa, positive down).
type FloorPatch struct {
	Floor          int
	X0, X1, Y0, Y1 float64
	Pressure       float64
}

// DoorPull is what a shut door gives to its jambs and header besides pressure: the pull of wind locks.
type DoorPull struct {
	Opening int
	Pull    float64 // N per metre of jamb, towards the door
}

// Share is a part of the weight of which a notional or earthquake case takes its fraction: a factor on every vertical
// load of one case, each at its own place.
type Share struct {
	Case   string // the case's ID
	Factor float64
}

// Case is one set of actions that act together. What depends on the model (self weight, notional and earthquake forces)
// is asked for by a mark and resolved by model/shed.
type Case struct {
	ID         string // "Wu W1 roof a cpi+"
	Kind       solver.CaseKind
	Title      string
	Patches    []Patch
	Floors     []FloorPatch
	Pulls      []DoorPull
	Direction  r3.Vec  // wind: where it blows to; notional and earthquake: the force's sense
	SelfWeight bool    // the model's own steel acts
	Fraction   float64 // notional: share of each vertical load; earthquake: base shear over seismic weight
	Offset     float64 // earthquake: accidental eccentricity as a share of the plan width square to the force
	// Shares say of which vertical loads Fraction is taken (notional, robustness and earthquake cases).
	Shares []Share
	// HeightPower is k in F_i = V·W_i·h_i^k/ΣW·h^k (AS 1170.4, 6.3), h above the base; 0 spreads V as the weights.
	HeightPower float64
}

// Pack is one country's action codes.
type Pack interface {
	// Name names the codes and editions.
	Name() string
	// Cases returns every case of b on s. Bad or missing input is an error that says what to give.
	Cases(b *Building, s *Site) ([]Case, error)
	// Combinations returns the combinations of those cases, by index, with the reason for each.
	Combinations(b *Building, s *Site, cases []Case) ([]solver.Combination, error)
	// NotCovered lists by name what the pack leaves out.
	NotCovered() []string
}
