package buildlist

import (
	"fmt"
	"strconv"
	"strings"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// longestStock is the longest bar that is believed, in mm.
const longestStock = 100_000

// StockOf is what lies in a plant's store.
func StockOf(p *plant.Plant) []Stock {
	list := make([]Stock, len(p.StockOnHand))
	for i, s := range p.StockOnHand {
		list[i] = Stock{Part: s.Part, Length: s.Length, Count: s.Count, Listed: true}
	}
	return list
}

// ParseStock reads what lies in the store of one part: "tube=1850,1850,2400" are
// three bars with their lengths in mm.
func ParseStock(text string) (list []Stock, err error) {
	at := strings.LastIndex(text, "=")
	if at < 1 {
		return nil, fmt.Errorf("%q: expected PART=LENGTH,LENGTH with lengths in mm", text)
	}
	part := plant.KitPartCode(strings.TrimSpace(text[:at]))
	for _, l := range strings.Split(text[at+1:], ",") {
		mm, err := strconv.ParseFloat(strings.TrimSpace(l), 64)
		if err != nil || !(mm >= 1 && mm <= longestStock) {
			return nil, fmt.Errorf("%q: %q is no length from 1 to %d mm", text, l, longestStock)
		}
		list = append(list, Stock{Part: part, Length: units.Length(mm * float64(units.Millimetre)), Count: 1})
	}
	return list, nil
}
