package importers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/mapping"
	"lanewright/planner/units"
	"lanewright/testdata/sheets"
)

// TestRowsOfRoutesThatRepeat: the second of two equal rows is left out, with
// a word, in the sheets about routes as elsewhere.
func TestRowsOfRoutesThatRepeat(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern").withRounds()
	for _, name := range []string{"Turns", "Current routes", "Route rules"} {
		w.add(name, w[name][1]...)
	}
	r := w.readZip(t)
	assert.ElementsMatch(t, []string{"Turns!3", "Current routes!4", "Route rules!4"}, places(ofCode(r.Findings, CodeRepeatedRow)))
	assert.Len(t, r.Plant.Turns, 1)
	assert.Len(t, r.Plant.CurrentRoutes, 2)
	assert.Len(t, r.Plant.RouteRules, 2)
}

// TestBadRowsAreNotAskedTwice: what a row that is left out already names is
// not looked up too.
func TestBadRowsAreNotAskedTwice(t *testing.T) {
	t.Parallel()
	r := loadWorkbook(t, "lantern").set("Parts", "E3", "many").set("Parts", "D3", "NOWHERE").readZip(t)
	assert.Equal(t, []string{"Parts!E3"}, places(ofCode(r.Findings, CodeBadValue)))
	assert.Empty(t, ofCode(r.Findings, CodeUnknownContainer))
}

// TestPricesPerFoot: a price per foot is one per metre, rounded to the
// nearest; a metre is 1/0.3048 feet (the international foot of 1959).
func TestPricesPerFoot(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern").withKit().set("Kit parts", "L1", "Price per foot").set("Kit parts", "L2", "1")
	r := w.readZip(t)
	require.Len(t, r.Plant.Kits, 1)
	price := r.Plant.Kits[0].Parts[1].PricePerMetre
	assert.InDelta(t, 1/.3048, price.Float64(), .5/float64(units.Unit), "rounded to the nearest, not down")
}

// TestPreviewOfAnswersDaysAndPrices: values are shown as they are understood.
func TestPreviewOfAnswersDaysAndPrices(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern")
	w.set("Containers", "H2", "nein")
	r := w.readZip(t)
	shown := func(kind, field string, row int) string {
		for _, p := range r.Preview {
			for i, f := range p.Fields {
				if p.Kind == kind && f == field {
					return p.Rows[row].Values[i]
				}
			}
		}
		return "not there"
	}
	assert.Equal(t, "2026-03-02", shown("History", "Date", 0))
	assert.Equal(t, []string{"no", "yes"}, []string{shown("Containers", "Returnable", 0), shown("Containers", "Returnable", 1)})
	assert.Equal(t, "4.25", shown("Parts", "Unit cost", 0))
}

// TestCodesShownBeyondTheirNumber: where one code of a column shows more than
// its number, that one is named.
func TestCodesShownBeyondTheirNumber(t *testing.T) {
	t.Parallel()
	a := smallWorkbook(`<c r="A2"><v>4711</v></c>`, "").Replace(sheets.SheetPart, `<c r="A3" t="inlineStr"><is><t>L-7</t></is></c>`, `<c r="A3" s="1"><v>123</v></c>`)
	found := ofCode(readBytes(t, "a.xlsx", a.Zip()).Findings, CodeNumber)
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Summary, "00123 for 123")
	assert.Equal(t, []string{"Parts!A3"}, places(found))
}

// TestMappingOfEqualHeadings: the second of two equal headings is another
// column, in their order.
func TestMappingOfEqualHeadings(t *testing.T) {
	t.Parallel()
	m, err := mapping.Parse("lanewright mapping 1\n\nsheet: a\nread as: Flat table\nheadings: row 1\n\"Part\" = Part\n\"Cell\" = Cell\n\"Station\" = Station\n\"Menge\" = Pieces per hour\n\"Container\" = Container\n\"Length (mm)\" = Length\n\"Width (mm)\" = Width\n\"Height (mm)\" = Height\n\"Menge\" = Standard pack\n")
	require.NoError(t, err)
	r, err := ReadBytesWith(t.Context(), Options{Mapping: m}, "a.csv", []byte("Part,Cell,Station,Menge,Container,Length (mm),Width (mm),Height (mm),Menge\nL-1,C1,10,5,BOX,400,300,220,20\n"))
	require.NoError(t, err)
	require.Len(t, r.Plant.Parts, 1, "%v", r.Findings)
	assert.Equal(t, int64(20), r.Plant.Parts[0].Pack)
	assert.Equal(t, "5", r.Plant.Usage[0].PerHour.String())
}

// TestPricesTellTheDecimalMark: where only prices show the decimal mark, the
// other numbers are read by it.
func TestPricesTellTheDecimalMark(t *testing.T) {
	t.Parallel()
	r, err := ReadBytesWith(t.Context(), Options{}, "a.csv", []byte("Part;Cell;Station;Pieces per hour;Container;Length (mm);Width (mm);Height (mm);Standard pack;Unit cost\nL-1;C1;10;1,250;BOX;400;300;220;20;3,75\n"))
	require.NoError(t, err)
	require.Len(t, r.Plant.Usage, 1, "%v", r.Findings)
	assert.Equal(t, "1.25", r.Plant.Usage[0].PerHour.String())
}
