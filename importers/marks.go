package importers

import (
	"fmt"
	"iter"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/finding"
)

// numberFields are the columns that hold one number each, with or without a
// unit. Their texts show which decimal mark a file uses.
var numberFields = map[string]bool{
	"Units per day": true, "Variation": true, "Quantity per unit": true, "Pieces per hour": true, "Pieces per day": true,
	"Scrap": true, "Refill interval": true, "Response time": true, "Service level": true, "Safety": true, "Units": true,
	"Piece mass": true, "Unit cost": true, "Length": true, "Width": true, "Height": true, "Empty mass": true,
	"Gross mass limit": true, "Nests": true, "Frontage": true, "New rack X": true, "New rack Y": true, "X": true, "Y": true,
	"Walk limit": true, "Depth": true, "Own mass": true, "Mass limit": true, "Cost": true, "Pick height": true, "Drop": true,
	"Lane length": true, "Usable width": true, "Clear height": true, "Speed limit": true, "Speed": true, "Stop time": true,
	"Load time": true, "Unload time": true, "Empty time": true,
}

// countFields are the columns that hold a count or rate of pieces or units,
// which the column itself says.
var countFields = map[string]bool{
	"Units per day": true, "Quantity per unit": true, "Pieces per hour": true, "Pieces per day": true, "Units": true,
	"Standard pack": true, "Containers": true, "Count": true,
}

// numberSettings are the settings that hold one number each.
var numberSettings = map[string]bool{
	"Refill interval": true, "Response time": true, "Service level": true, "Safety": true, "Lane side clearance": true,
	"Guide width": true, "Hand clearance": true, "Roller pitch": true, "Fill limit of levels": true,
	"Load limit of a round": true, "Busy limit of a handler": true,
}

// findMarks finds the decimal mark of each file: the one that its clear
// numbers agree on. Where none speaks, or they disagree, a number that can be
// read in two ways is reported and not guessed.
func (rd *reading) findMarks() {
	marks := map[int]value.Marks{}
	told := false
	for _, t := range rd.tables {
		if _, ok := marks[t.book]; !ok {
			marks[t.book] = value.MarksOf(rd.numbers(t.book))
		}
		t.marks = marks[t.book]
		if rd.mapping == nil || rd.mapping.Decimal == 0 || t.old {
			continue
		}
		if shown := t.marks.Decimal; shown != 0 && shown != rd.mapping.Decimal && !told {
			rd.otherDecimal(shown)
			told = true
		}
		t.marks = value.Marks{Decimal: rd.mapping.Decimal}
	}
}

// otherDecimal reports that the numbers of a file speak for another decimal
// mark than the mapping: 1.250 would be read as a thousand and more.
func (rd *reading) otherDecimal(shown rune) {
	names := map[rune]string{'.': "point", ',': "comma"}
	rd.found = append(rd.found, finding.Finding{
		Severity: finding.Error, Code: CodeMappingDecimal, Origin: rd.file(),
		Summary: fmt.Sprintf("The mapping says that the decimal mark is a %s, but the numbers of the file have a %s", names[rd.mapping.Decimal], names[shown]),
		Detail:  "A number such as 1.250 would mean something else than was meant.",
		Remedy:  fmt.Sprintf("Correct the line in the mapping to decimal: %s, or take it out; or write the file as before.", names[shown]),
	})
}

// numbers yields the cells of all number columns of a file.
func (rd *reading) numbers(book int) iter.Seq[sheet.Cell] {
	return func(yield func(sheet.Cell) bool) {
		for _, t := range rd.tables {
			if t.book == book && !t.numbers(yield) {
				return
			}
		}
	}
}

func (t *table) numbers(yield func(sheet.Cell) bool) bool {
	if t.kind.Name == column.Plant {
		return t.settingNumbers(yield)
	}
	for field, at := range t.match.At {
		if !numberFields[field] {
			continue
		}
		for _, r := range t.rows {
			if at < len(r.Cells) && !yield(r.Cells[at]) {
				return false
			}
		}
	}
	return true
}

// settingNumbers yields the values of the settings that are one number each.
func (t *table) settingNumbers(yield func(sheet.Cell) bool) bool {
	lexicon := column.SettingsLexicon()
	for _, r := range t.rows {
		name := r.may("Setting").cell.Text
		for field := range lexicon.Recognise([]string{name}, splitHeading).At {
			if numberSettings[field] && !yield(r.may("Value").cell) {
				return false
			}
		}
	}
	return true
}
