package placement

// Settings steer the placement search.
type Settings struct {
	// WalkCost turns walking into effort: kg per metre walked. 0.05 is the
	// value of the planning rules (common practice, no source).
	WalkCost float64
	// Steps is the number of local search steps spent per loop of a cell; the
	// search is repeatable because it counts steps, not time. 0 is the quick
	// mode: layouts are built and repaired, hardly searched, and bounds come
	// from the first relaxation only. They hold all the same.
	Steps int
}

// DefaultSettings returns the settings of a plan that asks for nothing else.
func DefaultSettings() Settings { return Settings{WalkCost: 0.05, Steps: 2000} }
