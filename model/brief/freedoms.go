package brief

// Freedoms is what the search may vary. The defaults give sheds that can be bought and built; "wide" opens the rest.
type Freedoms struct {
	// Which set of defaults holds for what is not stated.
	Breadth Breadth `yaml:"breadth" default:"narrow"`
	// Stock of each group; the catalogue's families for the group when left out.
	Stock map[Group]Stock `yaml:"stock"`
	// Column and rafter are of one outer size, thickness free.
	OneOuterSize bool `yaml:"one_outer_size" default:"true" wide:"false"`
	// The inner frames are alike, except where a clear zone or a mezzanine forbids it.
	AlikeFrames bool `yaml:"alike_frames" default:"true" wide:"false"`
	// The end frames may differ from the inner frames.
	EndFramesDiffer bool `yaml:"end_frames_differ" default:"false" wide:"true"`
	// Frames are symmetric about the ridge, except where a clear zone or a mezzanine forbids it.
	Symmetric bool `yaml:"symmetric" default:"true" wide:"false"`
	// Where props may stand, and how many lines of them.
	Props PropFreedom `yaml:"props"`
	// Which bracing may be used where.
	Bracing BracingFreedom `yaml:"bracing"`
	// The struts may be added and left out; else they stay as proposed.
	Struts bool `yaml:"struts" default:"true"`
	// Fly braces of open-section frames may vary.
	FlyBraces bool `yaml:"fly_braces" default:"true"`
	// The spacings of purlins and girts may vary among those of the building.
	Spacings bool `yaml:"spacings" default:"true"`
	// Factors on the site wind speed that purlins, girts, jambs and lintels may be sized for, to the hundredth; 1 is always among them. When left out, 1 to 1.2 in steps of 0.05 where wind reserve is an objective, else 1 alone.
	SecondaryWind []float64 `yaml:"secondary_wind" range:"1..1.5"`
	// Most distinct hollow and hot-rolled sections.
	DistinctSections int `yaml:"distinct_sections" range:"1..50" default:"8" wide:"20"`
	// Least wall thickness of primary members.
	MinThickness Size `yaml:"min_thickness" range:"1..20" default:"4" wide:"3"`
	// Least wall thickness of hollow and hot-rolled secondary members.
	MinSecondaryThickness Size `yaml:"min_secondary_thickness" range:"1..20" default:"3" wide:"1.6"`
	// Longest piece.
	PieceLength Length `yaml:"piece_length" range:"3..30" default:"12" wide:"18"`
	// Heaviest piece.
	PieceMass Mass `yaml:"piece_mass" range:"50..20000" default:"500" wide:"2000"`
}

// Stock is what a group may be made of.
type Stock struct {
	// Families of sections.
	Families []string `yaml:"families" oneof:"RHS|SHS|CHS|UB|PFC|EA|ROD|C|Z"`
	// Sections by name; when given, nothing else is considered.
	Sections []string `yaml:"sections"`
	// Least wall or web thickness.
	MinThickness Size `yaml:"min_thickness" range:"0.5..50"`
	// Greatest wall or flange thickness.
	MaxThickness Size `yaml:"max_thickness" range:"0.5..50"`
	// Least depth.
	MinDepth Size `yaml:"min_depth" range:"5..1000"`
	// Greatest depth.
	MaxDepth Size `yaml:"max_depth" range:"5..1000"`
	// Grades; each section's first grade when left out.
	Grades []string `yaml:"grades"`
	// The proposal's section stays.
	Keep bool `yaml:"keep"`
}

// PropFreedom is where props may stand.
type PropFreedom struct {
	// Stretches of Y in which props may stand; anywhere clear of zones, doors and floors when left out.
	Windows []Range `yaml:"windows" range:"0..60"`
	// Frame lines that may have props, by number; all inner lines when left out.
	Lines []int `yaml:"lines" range:"1..200"`
	// Most lines of props along the building.
	MaxLines int `yaml:"max_lines" range:"0..6" default:"2" wide:"4"`
	// Step of their position.
	Step Size `yaml:"step" range:"50..5000" default:"300" wide:"100"`
	// Props may be left out.
	LeaveOut bool `yaml:"leave_out" default:"true"`
	// Props may be added where the proposal has none.
	Add bool `yaml:"add" default:"true"`
}

// BracingFreedom is which bracing may be used where.
type BracingFreedom struct {
	// Patterns allowed in the south wall.
	South []Pattern `yaml:"south" default:"[none, crossed rods, single diagonal, two-tier, knee braces, portalised bay]"`
	// Patterns allowed in the north wall.
	North []Pattern `yaml:"north" default:"[none, crossed rods, single diagonal, two-tier, knee braces, portalised bay]"`
	// Patterns allowed in the west gable; what the proposal draws there is always among the options.
	West []Pattern `yaml:"west" default:"[none]" wide:"[none, crossed rods, single diagonal]"`
	// Patterns allowed in the east gable; what the proposal draws there is always among the options.
	East []Pattern `yaml:"east" default:"[none]" wide:"[none, crossed rods, single diagonal]"`
	// Patterns allowed in the roof.
	Roof []Pattern `yaml:"roof" default:"[none, crossed rods, single diagonal, zig-zag]"`
	// Most braced bays in a wall.
	MaxBays int `yaml:"max_bays" range:"0..50" default:"2" wide:"6"`
	// Both long walls have the same type of bracing.
	SameType bool `yaml:"same_type" default:"true" wide:"false"`
	// Wall bracing is in the same bays as the roof bracing, where the openings allow it.
	SameBay bool `yaml:"same_bay" default:"true" wide:"false"`
	// Clearance of a brace to the edge of an opening.
	Clearance Size `yaml:"clearance" range:"0..1000" default:"50"`
}

// Limits are the limits that a variant must keep. The defaults are trade practice for sheeted sheds without cranes, from
// memory; the certifier confirms them.
type Limits struct {
	// Sideways movement of the eaves in the service wind: height over this.
	EavesSway Ratio `yaml:"eaves_sway" range:"50..1000" default:"150"`
	// Relative movement of adjacent frames: bay over this.
	AdjacentFrames Ratio `yaml:"adjacent_frames" range:"50..1000" default:"200"`
	// Rafter under permanent load: span over this.
	RafterPermanent Ratio `yaml:"rafter_permanent" range:"50..1000" default:"360"`
	// Rafter under imposed load: span over this.
	RafterImposed Ratio `yaml:"rafter_imposed" range:"50..1000" default:"240"`
	// Rafter under service wind: span over this.
	RafterWind Ratio `yaml:"rafter_wind" range:"50..1000" default:"150"`
	// Purlin under permanent load: span over this.
	PurlinPermanent Ratio `yaml:"purlin_permanent" range:"50..1000" default:"300"`
	// Purlin under imposed load: span over this.
	PurlinImposed Ratio `yaml:"purlin_imposed" range:"50..1000" default:"180"`
	// Purlin under service wind: span over this.
	PurlinWind Ratio `yaml:"purlin_wind" range:"50..1000" default:"150"`
	// Girt under service wind: span over this.
	GirtWind Ratio `yaml:"girt_wind" range:"50..1000" default:"150"`
	// Mullion under service wind: height over this.
	MullionWind Ratio `yaml:"mullion_wind" range:"50..1000" default:"150"`
	// Mezzanine beam and joist under permanent and long-term imposed load: span over this.
	FloorTotal Ratio `yaml:"floor_total" range:"50..1000" default:"250"`
	// Mezzanine beam and joist under imposed load alone: span over this.
	FloorImposed Ratio `yaml:"floor_imposed" range:"50..1000" default:"360"`
	// Deflection of a floor under a force of 1 kN at its softest point.
	FloorTest Size `yaml:"floor_test" range:"0.2..10" default:"2"`
	// Lintel of a door under permanent load and service wind: width over this.
	DoorHead Ratio `yaml:"door_head" range:"50..1000" default:"240"`
	// Jamb of a door under service wind: height over this.
	Jamb Ratio `yaml:"jamb" range:"50..1000" default:"150"`
	// Below this elastic buckling load factor a variant is refused.
	LambdaRefuse float64 `yaml:"lambda_refuse" range:"1..10" default:"2.5"`
	// Below this elastic buckling load factor a variant is shown with a warning.
	LambdaWarn float64 `yaml:"lambda_warn" range:"1..20" default:"4"`
	// Service limits refuse a variant; else they are shown only.
	ServiceHard bool `yaml:"service_hard" default:"true"`
	// Which analysis of the inner frames governs: in the whole shed, alone as plane frames, or the worse.
	InnerFrames FrameRule `yaml:"inner_frames" default:"worse"`
}

// Actions are choices about the actions.
type Actions struct {
	// Use the reduction for wind acting on several surfaces together. It is off because a search exploits a blanket reduction.
	CombinationFactor bool `yaml:"combination_factor"`
	// Combinations that are added to the code's own.
	Combinations []Combination `yaml:"combinations"`
	// The combinations given here replace the code's own.
	ReplaceCombinations bool `yaml:"replace_combinations"`
	// Slack of a rod in its own length, for sway in service.
	RodSlack Size `yaml:"rod_slack" range:"0..20"`
}

// Combination is one of the brief's own combinations.
type Combination struct {
	// Name, used in results.
	Name string `yaml:"name" need:"yes"`
	// Limit state.
	State string `yaml:"state" oneof:"strength|stability|service" need:"yes"`
	// Factor by kind of action.
	Terms map[ActionKind]float64 `yaml:"terms" range:"-3..3" need:"yes"`
	// Why it is wanted.
	Reason string `yaml:"reason"`
}

// ActionKind is a kind of action in a combination: G, Gx, Qr, Qf, Wu, Ws, S, E, H as in the combinations' names.
type ActionKind string

// Objectives are what the search minimises.
type Objectives struct {
	// Two or three objectives.
	Use []Objective `yaml:"use" default:"[mass, compliance]"`
	// Weight of each kind of departure from the drawing.
	Departures Departures `yaml:"departures"`
}

// Departures are the weights of changes against the proposal.
type Departures struct {
	// One group's section changes.
	Section float64 `yaml:"section" range:"0..100" default:"1"`
	// One panel of bracing is added, taken out or of another pattern.
	Brace float64 `yaml:"brace" range:"0..100" default:"2"`
	// One prop is added, taken out or moved.
	Prop float64 `yaml:"prop" range:"0..100" default:"3"`
	// One line of struts is added or taken out.
	Strut float64 `yaml:"strut" range:"0..100" default:"1"`
	// A spacing of purlins or girts changes.
	Spacing float64 `yaml:"spacing" range:"0..100" default:"1"`
}

// WhatIfs are the changes under which variants of the front are scored again.
type WhatIfs struct {
	// Which changes.
	Use []WhatIf `yaml:"use" default:"[all]"`
	// Factor on the imposed load of floors.
	FloorFactor float64 `yaml:"floor_factor" range:"1..3" default:"1.25"`
	// Settlement of one prop's base.
	Settlement Size `yaml:"settlement" range:"0..200" default:"10"`
	// Vertical stiffness of a prop's base.
	BaseStiffness Stiffness `yaml:"base_stiffness" range:"100..1e7" default:"20000"`
}

// Files are further files, relative to the brief.
type Files struct {
	// The certifier's own coefficients (YAML), each by name; its hash goes into every result.
	Overrides string `yaml:"overrides"`
	// Prices (YAML or CSV).
	Prices string `yaml:"prices"`
	// The fabricator's own sections (CSV).
	Sections string `yaml:"sections"`
}
