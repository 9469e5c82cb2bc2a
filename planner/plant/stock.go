package plant

import (
	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// StockBar is a number of bars or offcuts of one length that lie in the store, of
// a part that kits cut from stock. Cut lists use them before anything is bought.
type StockBar struct {
	Part KitPartCode
	// Length of each, above 0; Count of them, 1 or more.
	Length units.Length
	Count  int
	// Place says where they lie, for whoever fetches them.
	Place  string
	Origin finding.Origin
}
