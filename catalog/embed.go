package catalog

import "embed"

// data holds the embedded lists: dimensions only, in mm, each file with its sources; and the example prices.
//
//go:embed data/*.csv data/*.yaml
var data embed.FS
