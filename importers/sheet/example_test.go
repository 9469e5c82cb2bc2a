package sheet_test

import (
	"context"
	"errors"
	"fmt"

	"lanewright/importers/sheet"
)

// Rows keep the numbers a spreadsheet shows, blank lines counted.
func ExampleRead() {
	table := []byte("Part;Length (mm)\n\n00123;416,5\n")
	book, err := sheet.Read(context.Background(), "Parts.csv", table, sheet.DefaultLimits())
	if err != nil {
		fmt.Println(err)
		return
	}
	parts := &book.Sheets[0]
	for _, row := range parts.Rows {
		fmt.Println(parts.Origin(row.Number, 1), "is", row.Cells()[1].Text)
	}
	// Output:
	// Parts.csv, Parts!B1 is Length (mm)
	// Parts.csv, Parts!B3 is 416,5
}

// A file that cannot be read whole is refused in words.
func ExampleRefused() {
	_, err := sheet.Read(context.Background(), "Parts.xlsx", []byte("Part,Length\n"), sheet.DefaultLimits())
	var refused *sheet.Refused
	if errors.As(err, &refused) {
		fmt.Println(refused.Code)
		fmt.Println(refused.Summary)
	}
	// Output:
	// sheet.name-misleads
	// the name ends in .xlsx but the content is plain text
}
