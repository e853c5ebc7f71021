package catalog

import "embed"

// data holds the embedded lists: dimensions only, in mm, each file with its sources.
//
//go:embed data/*.csv
var data embed.FS
