package routing

// Settings steer the search for routes.
type Settings struct {
	// Steps is the number of improvement steps spent per stop.
	Steps int
	// MovePrice is what it costs, in metres of a round, that a stop leaves the route
	// that serves it today. Where Limited, at most MoveLimit stops do.
	MovePrice float64
	Limited   bool
	MoveLimit int
}

// DefaultSettings returns the settings of a plan that asks for nothing else.
func DefaultSettings() Settings { return Settings{Steps: 100} }
