package as4100

// BoundOfList is the greatest bound of the list of checks for the actions that Bound was asked about last: Bound calls each by name.
func (c *Checker) BoundOfList() (worst float64) {
	for k := range list {
		worst = max(worst, list[k].bound(&c.run))
	}
	return worst
}
