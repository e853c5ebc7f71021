package brief

import "strings"

// badPaths are the places whose values could not be read.
type badPaths struct {
	at    map[string]bool // the places themselves
	above map[string]bool // every path that one of them lies in
}

// newBadPaths returns an empty set.
func newBadPaths() badPaths { return badPaths{map[string]bool{}, map[string]bool{}} }

// add marks path.
func (b badPaths) add(path string) {
	b.at[path] = true
	for p, ok := outer(path); ok && !b.above[p]; p, ok = outer(p) {
		b.above[p] = true
	}
}

// touches says whether something at path, in it, or around it is bad.
func (b badPaths) touches(path string) bool {
	if b.at[path] || b.above[path] {
		return true
	}
	for p, ok := outer(path); ok; p, ok = outer(p) {
		if b.at[p] {
			return true
		}
	}
	return false
}

// outer returns the path that path lies in; the brief itself is "" and lies in nothing.
func outer(path string) (string, bool) {
	if path == "" {
		return "", false
	}
	return path[:max(strings.LastIndexAny(path, ".["), 0)], true
}
