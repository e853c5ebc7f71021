package as4100

import (
	"fmt"

	"leanbay/solver/checks"
)

// Kind numbers the checks of a member.
type Kind int

// The checks of a member, in the order of the working.
const (
	Tension Kind = iota
	Compression
	ShearX
	ShearY
	Torsion
	SectionCombined
	InPlane
	OutOfPlane
	Biaxial
	EccentricEnds
	NumKinds
)

// Check is one entry of the list of checks: what it is called, by which clause, what it does, and how it runs.
type Check struct {
	Name   string
	Clause string
	Doc    string
	// bound is an upper bound of the utilisation, from the member's greatest actions alone.
	bound func(*run) float64
	// find fills r.found with the governing case, as far as it exceeds r.floor.
	find func(*run)
	// work records the case r.found and returns its utilisation by the same functions.
	work func(*run, *checks.Working) float64
}

// Checks lists the checks of a member by Kind.
func Checks() [NumKinds]Check { return list }

// list holds the checks; init fills and validates it, since the checks refer to the list through run.
var list [NumKinds]Check

func init() {
	list = [NumKinds]Check{
		Tension: {"tension", "AS 4100 7.1", "greatest tension against phi Nt, with the end's kt", boundTension, findTension, workTension},
		Compression: {"compression", "AS 4100 6.1", "greatest compression against phi Nc about both axes, with sway lengths and flexural-torsional buckling where they apply",
			boundCompression, findCompression, workCompression},
		ShearX:  {"shear along the web", "AS 4100 5.12.3", "shear with bending about x at one station", boundShearX, findShearX, workShearX},
		ShearY:  {"shear across the web", "AS 4100 5.12.3", "shear with bending about y at one station", boundShearY, findShearY, workShearY},
		Torsion: {"torsion with shear", "AS 4100 5.11.4", "torsion and shear stresses of closed sections added (the code gives no rule; this tool's own, safe side)", boundTorsion, findTorsion, workTorsion},
		SectionCombined: {"section, combined", "AS 4100 8.3.4", "axial force and both moments at the worst station; first yield of round bars",
			boundSection, findSection, workSection},
		InPlane:    {"member, in plane", "AS 4100 8.4.2.2", "greatest compression with the greatest moment about each axis", boundInPlane, findInPlane, workInPlane},
		OutOfPlane: {"member, out of plane", "AS 4100 8.4.4.1", "lateral buckling of each segment, for both signs of moment", boundOutOfPlane, findOutOfPlane, workOutOfPlane},
		Biaxial:    {"member, biaxial", "AS 4100 8.4.5.1", "moments about both axes in each segment, with axial force", boundBiaxial, findBiaxial, workBiaxial},
		EccentricEnds: {"eccentric ends", "AS 4100 8.4.6", "axial force that enters off the centroid at both ends: single angles by one leg, channels by their web, stated eccentricities",
			boundEccentric, findEccentric, workEccentric},
	}
	if err := validate(list[:]); err != nil {
		panic(err)
	}
}

// validate holds the list to its rules: every entry with a name of its own, a clause, a doc and its functions.
func validate(list []Check) error {
	seen := map[string]bool{}
	for i, c := range list {
		switch {
		case c.Name == "" || c.Clause == "" || c.Doc == "":
			return fmt.Errorf("as4100: check %d lacks a name, clause or doc", i)
		case seen[c.Name]:
			return fmt.Errorf("as4100: two checks are called %q", c.Name)
		case c.bound == nil || c.find == nil || c.work == nil:
			return fmt.Errorf("as4100: check %q cannot run", c.Name)
		}
		seen[c.Name] = true
	}
	return nil
}

// Envelope keeps the worst result of each kind over the combinations given to Check. The zero value is empty.
type Envelope struct {
	Results [NumKinds]checks.Result
}

// Reset empties the envelope.
func (e *Envelope) Reset() { *e = Envelope{} }

// Governing is the worst result of all kinds; the zero Result if nothing was checked. Of equal ones the first counts.
func (e *Envelope) Governing() checks.Result {
	best := 0
	for i := range e.Results {
		if e.Results[i].Utilisation > e.Results[best].Utilisation {
			best = i
		}
	}
	return e.Results[best]
}
