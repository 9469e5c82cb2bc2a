package importers

import (
	"fmt"
	"iter"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/finding"
)

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
	rd.say(finding.Finding{
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
		if !column.HoldsOf(field).IsAmount() {
			continue
		}
		for _, r := range t.rows {
			if !yield(r.Cell(at)) {
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
			if column.HoldsOf(field).IsAmount() && !yield(r.may("Value").cell) {
				return false
			}
		}
	}
	return true
}
