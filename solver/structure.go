// Package solver holds the words that analysis and checks share: a structure as numbers, with no shed and no file format.
//
// In: nodes, elements, physical members, load cases and combinations, all in SI base units (m, N, kg, Pa, rad).
// Out: forces along members (Forces, Diagram) that the checks read. It does not know what a shed is, nor where a load
// came from; sections come from the catalogue. The analysis itself is in solver/frame.
//
// Axes. Global X, Y, Z are right-handed with Z up. An element's local x runs from end I to end J, local y is YAxis made
// square to x (for a member: along the web), z = x cross y. Iz bends in the x-y plane and is the catalogue's Ix (major
// axis); Iy bends in x-z and is the catalogue's Iy.
package solver

import (
	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/catalog"
)

// Caution is the line that every report, screen and export carries.
const Caution = "Results need review by a licensed structural engineer against the local codes in force; " +
	"connections, footings and erection are to be designed or confirmed where this tool does not cover them."

// DOF numbers the six freedoms of a node: translations along global X, Y, Z, then rotations about them.
type DOF int

// The freedoms of a node, in the order of every six-vector of displacements or reactions.
const (
	UX DOF = iota
	UY
	UZ
	RX
	RY
	RZ
)

// String gives the name that the neutral frame form uses: ux … rz.
func (d DOF) String() string { return [...]string{"ux", "uy", "uz", "rx", "ry", "rz"}[d] }

// Component numbers the six internal forces of a member.
type Component int

// The components of Forces, in order.
const (
	N Component = iota
	Vy
	Vz
	T
	My
	Mz
)

// String gives the component's name in the neutral frame form.
func (c Component) String() string { return [...]string{"N", "Vy", "Vz", "T", "My", "Mz"}[c] }

// Structure is one thing to analyse and check. Everything refers to nodes, elements, members and cases by index.
type Structure struct {
	Nodes        []Node
	Elements     []Element
	Members      []Member
	Cases        []Case
	Combinations []Combination
	// Table has the point forces of cases with a Column, and the places of Pushes, beside their own point loads; TableIndex says which member stands for each of the table's, -1
	// for none, and nil that they are the same.
	Table      *PointTable
	TableIndex []int
}

// Node is a point with six freedoms.
type Node struct {
	ID     int    // the user's number, used in messages and answers
	Name   string // how a drawing would say it: "eaves 3/A"; may be empty
	Pos    r3.Vec // m, global
	Held   [6]bool
	Spring [6]float64 // N/m and N·m/rad to ground; 0 is none
}

// Activity says which sign of axial force an element can take.
type Activity int

// An element acts both ways unless it is stated to act in tension or in compression only.
const (
	BothWays Activity = iota
	TensionOnly
	CompressionOnly
)

// Element is a straight prismatic piece between two nodes.
type Element struct {
	ID      string
	I, J    int // node indices
	Member  int // index in Members; -1 for none
	E, G    float64
	Density float64 // kg/m³, for self weight and mass
	A       float64 // m²
	Iy, Iz  float64 // m⁴, local axes (see the package comment)
	It      float64 // m⁴, St Venant torsion constant
	Asy     float64 // m², shear area for shear along local y; 0 is no shear deformation
	Asz     float64
	YAxis   r3.Vec
	// ReleaseI and ReleaseJ list the local end components that transmit nothing, in the order N, Vy, Vz, T, My, Mz.
	ReleaseI, ReleaseJ [6]bool
	// SpringI and SpringJ are end stiffnesses in N·m/rad for T, My, Mz (indices 3, 4, 5); 0 is rigid.
	SpringI, SpringJ [6]float64
	// OffsetI and OffsetJ are rigid arms, global, from the node to the element's end (m).
	OffsetI, OffsetJ r3.Vec
	Bar              bool // axial only, pinned at both ends
	Acts             Activity
}

// Role says what a member is in the shed; checks choose their rules by it.
type Role string

// The roles of physical members, in the trade's words.
const (
	RoleColumn    Role = "column"
	RoleRafter    Role = "rafter"
	RoleProp      Role = "prop"
	RoleMullion   Role = "mullion"
	RoleBeam      Role = "mezzanine beam"
	RolePost      Role = "post"
	RoleStrut     Role = "strut"
	RoleWallBrace Role = "wall brace"
	RoleRoofBrace Role = "roof brace"
	RoleOther     Role = "member"
)

// Member is a piece of steel that is bought and checked as one. Its stations run in metres from end I of its first
// element to end J of its last; a chain of elements must be straight and continuous.
type Member struct {
	ID         string // reads like a drawing: "rafter/3/A-ridge"
	Group      string // members of a group share a section
	Role       Role
	Section    *catalog.Section // nil for a member given by numbers only: it is analysed, not checked
	Grade      catalog.Grade
	Elements   []int // in order along the member
	Length     float64
	Restraints []Restraint
	EffectiveX EffectiveLength // flexural buckling about the major axis
	EffectiveY EffectiveLength // about the minor axis
	// TopLoads is the spacing (m) of loads that sit on the top flange and move with it when it buckles, as purlins and joists
	// that are no restraint; 0 is none.
	TopLoads float64
	// EndEccentricity is how far from the centroid the axial force enters at both ends (m); 0 leaves it to the checks.
	EndEccentricity    float64
	EccentricitySource string // in words; empty for one that the drawing states
}

// Flange names the side of a member that a restraint holds. Top is the +y side (outside: up on rafters, out on columns).
type Flange int

// Which flange a restraint holds.
const (
	TopFlange Flange = iota
	BottomFlange
	BothFlanges
)

// String names the flange.
func (f Flange) String() string { return [...]string{"top flange", "bottom flange", "both flanges"}[f] }

// RestraintKind is the class of a restraint to a cross-section (AS 4100 5.4.2): F full, P partial, L lateral, U none.
type RestraintKind byte

// The classes of AS 4100 5.4.2.
const (
	RestraintF RestraintKind = 'F'
	RestraintP RestraintKind = 'P'
	RestraintL RestraintKind = 'L'
	RestraintU RestraintKind = 'U'
)

// Restraint holds a cross-section of a member. It is listed only where its own line was traced to an anchored node of
// the bracing.
type Restraint struct {
	Station float64 // m from the member's start
	Flange  Flange
	Kind    RestraintKind
	Source  string // "purlin 4, anchored at roof bay 1"
}

// EffectiveLength is a compression length and where it came from.
type EffectiveLength struct {
	Length float64 // m; 0 means the greatest distance between restraints about that axis
	Sway   bool    // true if the length is that of a member whose ends move sideways relative to each other
	Source string  // "given", "elastic buckling", "stiffness ratios", "restraints"
}

// CaseKind says which action a case is, for combinations and for checks that depend on it.
type CaseKind string

// The kinds of load case.
const (
	KindPermanent      CaseKind = "G"  // certain permanent action
	KindPermanentExtra CaseKind = "Gx" // possible permanent action (services, panels, ceilings)
	KindRoofImposed    CaseKind = "Qr"
	KindFloorImposed   CaseKind = "Qf"
	KindWindUltimate   CaseKind = "Wu"
	KindWindService    CaseKind = "Ws"
	KindSnow           CaseKind = "S"
	KindEarthquake     CaseKind = "E"
	KindNotional       CaseKind = "H"
	KindOther          CaseKind = "other"
)

// Case is one set of loads that act together.
type Case struct {
	ID         string
	Kind       CaseKind
	Title      string
	Nodal      []NodalLoad
	Line       []LineLoad
	Point      []PointLoad
	Column     int    // of the structure's Table, from 1: its forces act too; 0 is none
	Pushes     []Push // likewise forces at places of the Table, along Along
	Along      r3.Vec // global
	SelfWeight r3.Vec // multiplies each element's density·A·9.80665: (0, 0, -1) is gravity
}

// NodalLoad is a force (N) and moment (N·m) at a node, global.
type NodalLoad struct {
	Node int
	F, M r3.Vec
}

// LoadAxes says in which axes a member load is given.
type LoadAxes int

// The axes of a member load.
const (
	GlobalAxes LoadAxes = iota
	LocalAxes
)

// LineLoad is a load along a member, linear from Q1 at From to Q2 at To, in N per metre of true member length; with
// Projected, per metre of the length projected square to the load's direction (global axes only).
type LineLoad struct {
	Member    int
	From, To  float64 // m, stations
	Q1, Q2    r3.Vec  // N/m
	Axes      LoadAxes
	Projected bool
}

// PointLoad is a force (N) and moment (N·m) at a station of a member. Arm is the rigid arm, in local axes, from the
// centroid to where F acts (m): cleat and beam eccentricities.
type PointLoad struct {
	Member int
	At     float64 // m, station
	F, M   r3.Vec
	Axes   LoadAxes
	Arm    r3.Vec
}

// LimitState groups combinations by the question they answer.
type LimitState string

// The limit states of AS/NZS 1170.0 that combinations belong to.
const (
	Strength  LimitState = "strength"
	Stability LimitState = "stability"
	Service   LimitState = "service"
)

// Combination is a weighted sum of cases, with the reason for which it exists.
type Combination struct {
	ID     string // "0.9G+Wu S set 1 Cpi+"
	State  LimitState
	Terms  []Term
	Reason string // clause and what it looks for
}

// Term is one case and its factor.
type Term struct {
	Case   int // index in Cases
	Factor float64
}
