package checks

// Certainty marks of coefficients, as they appear in the working. The certifying engineer confirms each against their
// own copy of the code.
const (
	MarkVerified = "verified"    // reproduces published capacity tables within 1 %
	MarkTables   = "tables"      // reproduces remembered section tables
	MarkSeen     = "seen"        // seen in a public source
	MarkMemory   = "from memory" // from memory of the code
	MarkDoubtful = "doubtful"    // from memory and doubtful; taken on the safe side
	MarkOwnRule  = "this tool's" // no rule in the code; the tool's own, on the safe side

	MarkCertifier = "certifier: " // and their reason: set by the certifier's own file
)
