// Package catalog is the stock: steel sections as dimensions with their source, properties computed from geometry,
// grades, and prices.
//
// In: the embedded lists and a user's own CSV. Out: sections and grades in SI base units. It knows nothing of loads,
// frames or codes. Section axes are those of the steel code: x major, y minor.
package catalog

// Family is a kind of section.
type Family string

// The families of the embedded lists.
const (
	RHS Family = "RHS" // cold-formed rectangular hollow sections
	SHS Family = "SHS" // cold-formed square hollow sections
	CHS Family = "CHS" // circular hollow sections
	UB  Family = "UB"  // hot-rolled universal beams
	PFC Family = "PFC" // hot-rolled parallel flange channels
	EA  Family = "EA"  // hot-rolled equal angles
	Rod Family = "ROD" // round bars with threaded ends
	C   Family = "C"   // cold-formed lipped channels
	Z   Family = "Z"   // cold-formed lipped zeds
)

// Mark is the certainty of a datum: where it was seen.
type Mark string

// The certainty marks. Doubtful data take the safe side and say so.
const (
	Verified   Mark = "verified"    // seen in a published table
	FromMemory Mark = "from memory" // trade knowledge, no table opened
	Doubtful   Mark = "doubtful"
	UserGiven  Mark = "user's own"
)

// Grade is a steel grade as it applies to one section: yields may differ between flange and web.
type Grade struct {
	Name string
	Fy   float64 // Pa, flange (the whole section where there is one yield)
	FyW  float64 // Pa, web
	Fu   float64 // Pa
	Mark Mark
}

// Dims are a section's outline dimensions in metres; those that a family does not have are zero.
type Dims struct {
	D  float64 // overall depth (along the web; diameter of CHS and rods; leg of angles)
	B  float64 // overall width (RHS, SHS, C), flange width (UB, PFC), wide flange of Z
	F  float64 // narrow flange of Z
	T  float64 // wall thickness
	Tf float64 // flange thickness (UB, PFC)
	Tw float64 // web thickness (UB, PFC)
	L  float64 // lip, overall (C, Z)
	Ro float64 // outer corner radius (hollow sections, C, Z)
	Ri float64 // inner corner radius
	R1 float64 // root radius (UB, PFC, EA)
	R2 float64 // toe radius (EA)
	P  float64 // thread pitch (rods)
}

// Properties are computed from Dims, in m, kg and powers of them.
//
// How the sections lie: x points right and y up; the web of channels is at the left, its toes right; an angle's corner is
// at the lower left; a zed has its wide flange at the bottom pointing right and its narrow one at the top pointing left,
// so that Ixy of angles and zeds is negative and Alpha positive.
type Properties struct {
	Mass       float64 // kg/m
	A          float64 // gross area
	Ix, Iy     float64 // second moments about the section's x and y axes through the centroid
	Ixy        float64 // product (Z and angles; axes parallel to web or legs)
	Imax, Imin float64 // principal second moments
	Alpha      float64 // angle from the x axis to the major principal axis (rad)
	Zx, Zy     float64 // least elastic moduli about x and y
	ZxTop      float64 // elastic modulus at +y and -y extreme fibres
	ZxBottom   float64
	ZyLeft     float64 // elastic modulus at the web side (channels: back of web) and at the toes
	ZyRight    float64
	Sx, Sy     float64 // plastic moduli
	Zmajor     float64 // angles: elastic and plastic modulus about the major principal axis, the axis of symmetry
	Smajor     float64
	ZminorHeel float64 // angles: elastic modulus about the minor principal axis at the heel and at the toes, and plastic modulus
	ZminorToes float64
	Sminor     float64
	Rx, Ry     float64 // radii of gyration about x and y
	Rmin       float64 // least radius of gyration (principal axis)
	J          float64 // torsion constant
	Iw         float64 // warping constant
	Ct         float64 // torsion modulus of hollow sections (shear stress = T/Ct); 0 for open ones
	Avx, Avy   float64 // shear areas for elastic shear deformation: force along the web (bending about x), across it
	Xc, Yc     float64 // centroid from the outline's lower left corner (channels: from the back of the web)
	X0, Y0     float64 // shear centre from the centroid
	BetaX      float64 // monosymmetry constant about x (0 for doubly symmetric); angles, zeds: about the principal axes
	BetaY      float64
	As, Ac     float64 // threaded rods: tensile stress area, core area
	Perimeter  float64 // outer outline length, for coating (m)
}

// Section is one size of the stock.
type Section struct {
	Name   string // canonical designation: "200x100x5.0RHS"
	Family Family
	Dims   Dims
	Props  Properties
	Grades []Grade // the first is the default
	Source string
	Mark   Mark
}
