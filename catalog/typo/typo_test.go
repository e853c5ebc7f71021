package typo

import "testing"

// TestDistance: classic pairs, counted by hand.
func TestDistance(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"girt", "girt", 0},
		{"kitten", "sitting", 3}, // k→s, e→i, +g
		{"purlin", "purin", 1}, {"rafter", "ratfer", 2}, {"ψc", "ψs", 1},
	} {
		if got := Distance(tt.a, tt.b); got != tt.want {
			t.Errorf("%q to %q: %d, by hand %d", tt.a, tt.b, got, tt.want)
		}
		if got := Distance(tt.b, tt.a); got != tt.want {
			t.Errorf("%q to %q: %d, by hand %d", tt.b, tt.a, got, tt.want)
		}
	}
}
