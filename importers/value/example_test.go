package value_test

import (
	"fmt"

	"lanewright/importers/sheet"
	"lanewright/importers/value"
)

// A cell brings its own unit; the heading brought none.
func Example_readALength() {
	name, unit := value.UnitOf("Length")
	l, err := value.Length(sheet.Cell{Text: "15 1/4 in"}, unit, "mm", value.Marks{})
	fmt.Println(name, l, err)
	// Output: Length 387.35 mm <nil>
}

// What can be read in two ways is reported with both.
func Example_reportAnAmbiguousNumber() {
	_, err := value.Ratio(sheet.Cell{Text: "1,234"}, value.Marks{})
	fmt.Println(err)
	// Output: "1,234": expected a number such as 12, 1.5 or 15 1/4; this one can mean 1.234 or 1234; Leave out the mark between thousands, or write one decimal more (1.2340), so that the decimal mark is clear.
}
