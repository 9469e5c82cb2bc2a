package sheets

import (
	"fmt"
	"strings"
)

// largeColumns are the twenty columns of Large.
var largeColumns = []string{
	"Part", "Description", "Cell", "Station", "Pieces per hour", "Container", "Length (mm)", "Width (mm)", "Height (mm)", "Standard pack",
	"Piece mass (kg)", "Returnable", "Market address", "Unit cost", "Pick hand", "Scrap (%)", "Service level (%)", "Flow side", "Handles", "Empty mass (kg)",
}

// Large returns a workbook with a flat table of this many rows in twenty
// columns, each row another part: what measures of reading and storing read.
func Large(rows int) []byte {
	var b strings.Builder
	write := func(number int, values ...any) {
		fmt.Fprintf(&b, `<row r="%d">`, number)
		for i, v := range values {
			if text, ok := v.(string); ok {
				fmt.Fprintf(&b, `<c r="%c%d" t="inlineStr"><is><t>%s</t></is></c>`, 'A'+i, number, text)
			} else {
				fmt.Fprintf(&b, `<c r="%c%d"><v>%v</v></c>`, 'A'+i, number, v)
			}
		}
		b.WriteString("</row>")
	}
	head := make([]any, len(largeColumns))
	for i, h := range largeColumns {
		head[i] = h
	}
	write(1, head...)
	for r := range rows {
		write(r+2, fmt.Sprintf("P-%06d", r), "Bracket, left", fmt.Sprintf("C%d", r/200), fmt.Sprint(10*(r%20)), 1.5+float64(r%40)/4, fmt.Sprintf("B%d", r%12),
			400, 300, 220, 20+r%30, 0.25, "yes", fmt.Sprintf("M-%05d", r), 1.25, "one", 0, 99.5, "length", "good", 1.2)
	}
	return bare(b.String()).Zip()
}
