package importers

// Base brings the facts of an earlier revision.
type Base struct{}
