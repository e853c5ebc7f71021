// Package briefs holds the example briefs: sheds of our own that the tests, the benchmarks and the README use.
//
// In: nothing. Out: files, to be read by model/brief. It knows nothing of what is in them.
package briefs

import "embed"

// FS holds packhouse.yaml, kit.yaml and barn.yaml.
//
//go:embed *.yaml
var FS embed.FS
