package vrp

import (
	"fmt"
	"strconv"
	"strings"
)

// Text is the problem as a file of its format. It must have a table and no limit.
func (v *Instance) Text() string {
	var b strings.Builder
	n := v.Nodes()
	fmt.Fprintf(&b, "NAME : %s\nTYPE : CVRP\nDIMENSION : %d\nEDGE_WEIGHT_TYPE : EXPLICIT\nEDGE_WEIGHT_FORMAT : FULL_MATRIX\nCAPACITY : %d\n", v.Name, n, v.Capacity)
	b.WriteString("EDGE_WEIGHT_SECTION\n")
	for i, d := range v.Table {
		b.WriteString(strconv.FormatFloat(d, 'f', -1, 64))
		if i%n == n-1 {
			b.WriteByte('\n')
		} else {
			b.WriteByte(' ')
		}
	}
	b.WriteString("DEMAND_SECTION\n")
	for a, d := range v.Demand {
		fmt.Fprintf(&b, "%d %d\n", a+1, d)
	}
	b.WriteString("DEPOT_SECTION\n1\n-1\nEOF\n")
	return b.String()
}
