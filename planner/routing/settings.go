package routing

// Settings steer the search for routes.
type Settings struct {
	// Steps is the number of improvement steps spent per stop.
	Steps int
}

// DefaultSettings returns the settings of a plan that asks for nothing else.
func DefaultSettings() Settings { return Settings{Steps: 100} }
