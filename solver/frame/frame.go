// Package frame analyses three-dimensional frames: linear, with members that act one way, second-order elastic, elastic
// buckling, mechanisms and natural periods.
//
// In: a solver.Structure (nodes, elements, members, cases, combinations) in SI base units. Out: displacements, reactions,
// end forces and exact curves along members, or an explanation of why there is no answer. It knows no shed, no code of
// practice and no file format.
//
// A Model is compiled once per topology and shared; each worker has a Workspace with all storage, into which structures of
// that topology are loaded. Results are a pure function of the structure: no clock, no map order, no worker count.
//
// What is exact: prismatic Timoshenko or Euler members (shear by Engesser's theory under axial force), releases, end
// springs, rigid arms, loads anywhere, axial force that varies along the member, P-Δ and P-δ. What is not modelled: bowing
// shortening, torsional and flexural-torsional buckling and warping of members, large rotations, yielding, the sag of rods,
// and bending of bars under their own axial force.
package frame

import "leanbay/solver"

// Analysis is a kind of static analysis.
type Analysis int

// The kinds. Linear ignores the Activity of elements. TensionOnly finds by an active set which one-way elements act.
const (
	Linear Analysis = iota
	SecondOrder
	TensionOnly
	TensionOnlySecondOrder
)

// String gives the name of the neutral frame form.
func (a Analysis) String() string {
	return [...]string{"linear", "second_order", "tension_only", "tension_only_second_order"}[a]
}

func (a Analysis) oneWay() bool { return a == TensionOnly || a == TensionOnlySecondOrder }
func (a Analysis) second() bool { return a == SecondOrder || a == TensionOnlySecondOrder }

// Gravity is the standard acceleration (m/s²) by which self weight is figured.
const Gravity = 9.80665

// Result is the answer of one analysis of one combination. It may be reused; it reads from the workspace that filled it
// and is good for Diagram, Buckling and EffectiveLengths until that workspace is loaded again.
type Result struct {
	Stable    bool
	Analysis  Analysis
	U         []float64     // 6 per node, global: m and rad
	Reactions []float64     // 6 per node, global, what the support exerts on the structure: N and N·m
	Ends      [][12]float64 // per element: what the node exerts on end i, then on end j; N, Vy, Vz, T, My, Mz in undeformed local axes
	Slack     []bool        // per element: a one-way element that takes no force
	// Touching marks slack one-way elements that were counted as ready to act, because a motion that nothing else resists
	// would engage them at once (upright sheds on slack rods).
	Touching   []bool
	Iterations int     // of the active set and of second order together
	Residual   float64 // greatest out-of-balance force or moment at a free freedom over the greatest in the structure
	Condition  float64 // estimate for the scaled stiffness; 0 if not asked for (Workspace.WantCondition)
	Mechanisms []Mechanism
	Notes      []string

	factors []float64 // per case
	rough   []Extent  // per member, of answers that came side by side
	axial   []float64 // per element: axial force just beyond end i, by which second order was computed
	size    float64   // √Σk·e² of the one-way elements in first order
	w       *Workspace
	load    uint64 // the workspace's Load to which the answer belongs
}

// Mechanism is a motion that the structure does not resist.
type Mechanism struct {
	Kind   MotionKind
	Moving []Movement // freedoms that move, by node; the greatest translation is 1 (rotation, if nothing is translated)
	Member int        // index of the element that moves by itself; -1 if nodes move
	Text   string     // in words: which nodes move, in which direction, and what would stop them
}

// MotionKind tells how a mechanism moves.
type MotionKind int

// Nodes may sway; joints may turn; an element may spin about its own axis; or releases leave an element loose in itself.
const (
	Sway MotionKind = iota
	JointRotation
	Spin
	LooseMember
)

// Movement is the share of one freedom in a motion.
type Movement struct {
	Node   int // index
	DOF    solver.DOF
	Amount float64
}
