package as4100

import (
	"math"

	"leanbay/solver/checks"
)

// JointKind is a kind of connection for the minimum design actions of 9.1.4.
type JointKind string

// The kinds of joint.
const (
	RigidJoint        JointKind = "rigid"
	SimpleBeam        JointKind = "simple beam"
	TieOrStrutEnd     JointKind = "end of tie or strut"
	TurnbuckleRod     JointKind = "threaded rod with turnbuckle"
	TensionSplice     JointKind = "splice in tension"
	CompressionSplice JointKind = "splice in compression"
	ContactSplice     JointKind = "splice in compression, full contact"
	FlexuralSplice    JointKind = "splice in bending"
)

// minimumRow is one row of 9.1.4: the share of the member's design capacity for which its connection is designed at
// least, and a limit that makes it smaller.
type minimumRow struct {
	kind   JointKind
	share  float64
	atMost float64 // N; 0 is none
	of     string
	clause string
	mark   string
}

// minimumActions are the rows of 9.1.4. They do not apply to lacing, sag rods, purlins and girts. The capacity is that
// of the smallest size that strength requires, not of one chosen larger for another reason.
var minimumActions = []minimumRow{
	{RigidJoint, 0.5, 0, "phi Mb", "AS 4100 9.1.4(a)", checks.MarkSeen},
	{SimpleBeam, 0.15, 40e3, "phi Vv", "AS 4100 9.1.4(b)", checks.MarkSeen},
	{TieOrStrutEnd, 0.3, 0, "phi N", "AS 4100 9.1.4(c)", checks.MarkSeen},
	{TurnbuckleRod, 1.0, 0, "phi N", "AS 4100 9.1.4(c)", checks.MarkSeen},
	{TensionSplice, 0.3, 0, "phi N", "AS 4100 9.1.4(d)", checks.MarkSeen},
	{CompressionSplice, 0.3, 0, "phi N", "AS 4100 9.1.4(d)", checks.MarkSeen},
	{ContactSplice, 0.15, 0, "phi N", "AS 4100 9.1.4(d)", checks.MarkSeen},
	{FlexuralSplice, 0.3, 0, "phi Mb", "AS 4100 9.1.4(d)", checks.MarkSeen},
}

// MinimumAction is the least design action (N or N·m) of a connection of the kind to a member of design capacity
// capacity (phi included), with its clause. It panics on an unknown kind.
func (r *Rules) MinimumAction(kind JointKind, capacity float64) (action float64, clause string) {
	for _, m := range r.in().least {
		if m.kind != kind {
			continue
		}
		a := m.share * capacity
		if m.atMost > 0 {
			a = math.Min(a, m.atMost)
		}
		return a, m.clause
	}
	panic("as4100: MinimumAction: no row for joint kind " + string(kind))
}

// Shares of forces for which restraints are designed (seen): of the critical flange's force (5.4.3) and of the axial
// force (6.6.2), and of each parallel member beyond (5.4.3.3, 6.6.3), seven members at most.
const (
	RestraintShare       = 0.025
	ParallelShare        = 0.0125
	ParallelMost         = 7
	beamEccentricityFace = 0.100 // m, least distance of a beam's reaction from the column face, 4.3.4 (seen)
)

// BeamEccentricity is the least distance (m) of a simple beam's reaction from the column's centreline by 4.3.4.
func BeamEccentricity(columnDepth float64) float64 { return columnDepth/2 + beamEccentricityFace }

// RestraintForce is the design force (N) of a restraint that holds flange or axial forces of the given members, nearest
// first: 0.025 of the first, 0.0125 of each beyond, seven members at most (5.4.3, 6.6).
func RestraintForce(forces ...float64) float64 {
	f := 0.0
	for i, n := range forces {
		switch {
		case i == 0:
			f += RestraintShare * math.Abs(n)
		case i < ParallelMost:
			f += ParallelShare * math.Abs(n)
		}
	}
	return f
}
