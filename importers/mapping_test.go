package importers

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/mapping"
	"lanewright/importers/sheet"
)

// oddLamps are the lamps under headings that nobody can know.
func oddLamps(t *testing.T) workbook {
	t.Helper()
	own := append([]string{}, loadWorkbook(t, "flat")["lamps"][0]...)
	own[0], own[4], own[9] = "ID of thing", "Verbrauch", "Menge"
	return flatAs(t, own)
}

func TestMappingFromProposalToReuse(t *testing.T) {
	t.Parallel()
	w := oddLamps(t)
	r := w.readZip(t)
	require.True(t, r.Findings.HasErrors())
	m := r.Mapping
	require.Len(t, m.Tables, 1)
	assert.Equal(t, "Flat table", m.Tables[0].Kind)
	assert.Len(t, m.Questions(), 2, "%s", m.Text())
	assert.Contains(t, m.Text(), `"Menge" = ? Standard pack`)
	assert.Contains(t, m.Text(), `"ID of thing" = -`)
	require.NoError(t, m.Answer("Menge", "Standard pack", ""))
	require.NoError(t, m.Answer("Verbrauch", "pieces per hour", ""))
	require.NoError(t, m.Answer("ID of thing", "Part", ""))
	require.Error(t, m.Answer("Length (mm)", "Part", ""))
	require.Error(t, m.Answer("Colour", "Part", ""))
	assert.Empty(t, m.Questions())

	again, err := mapping.Parse(m.Text())
	require.NoError(t, err, m.Text())
	assert.Equal(t, m.Text(), strings.ReplaceAll(again.Text(), "   # by its words", ""))
	given, err := ReadBytesWith(t.Context(), Options{Mapping: again}, "plant.zip", w.zip(t))
	require.NoError(t, err)
	sameLamps(t, given)
	assert.Len(t, ofCode(given.Findings, CodeMappingUsed), 1)
	assert.Equal(t, again.Shape(), given.Mapping.Shape())

	// The same shape under another name, with other rows: known.
	next := workbook{"lamps in May": w["lamps"]}
	known, err := ReadBytesWith(t.Context(), Options{Known: []*mapping.Mapping{{}, again}}, "plant.zip", next.zip(t))
	require.NoError(t, err)
	sameLamps(t, known)
	assert.Same(t, again, known.Used)

	// One column more is another shape.
	other := oddLamps(t)
	other.set("lamps", "N1", "Colour")
	unknown, err := ReadBytesWith(t.Context(), Options{Known: []*mapping.Mapping{again}}, "plant.zip", other.zip(t))
	require.NoError(t, err)
	assert.Nil(t, unknown.Used)
	assert.True(t, unknown.Findings.HasErrors())
}

func TestMappingKeepsOut(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern")
	w["Parts 2019"] = w["Parts"]
	m, err := mapping.Parse("lanewright mapping 1\nsheet: Parts 2019\nread as: -\nsheet: Nowhere\nread as: Pins\n\"X\" = Part\n")
	require.NoError(t, err)
	r, err := ReadBytesWith(t.Context(), Options{Mapping: m}, "plant.zip", w.zip(t))
	require.NoError(t, err)
	assert.Empty(t, ofCode(r.Findings, CodeSheetSecond))
	assert.Contains(t, ofCode(r.Findings, CodeMappingUsed)[0].Summary, "kept out")
	assert.Contains(t, ofCode(r.Findings, CodeMappingNoTable)[0].Summary, "Nowhere")
}

// The decimal mark is a question of its own.
func TestMappingAsksForTheDecimalMark(t *testing.T) {
	t.Parallel()
	w := flatAs(t, loadWorkbook(t, "flat")["lamps"][0])
	for _, row := range w["lamps"][1:] {
		row[4], row[10] = "1,250", ""
	}
	r := w.readZip(t)
	assert.True(t, r.Mapping.AskDecimal)
	assert.Contains(t, r.Mapping.Text(), "decimal: ? point or comma")
	for answer, want := range map[string]string{"comma": "5/4", "point": "1250"} {
		m, err := mapping.Parse(r.Mapping.Text())
		require.NoError(t, err)
		require.NoError(t, m.Answer("decimal", answer, ""))
		got, err := ReadBytesWith(t.Context(), Options{Mapping: m}, "plant.zip", w.zip(t))
		require.NoError(t, err)
		require.False(t, got.Findings.HasErrors(), "%v", got.Findings)
		assert.Equal(t, want, strings.ReplaceAll(got.Plant.Usage[0].PerHour.String(), "1.25", "5/4"))
	}
}

// A mapping whose decimal mark the file contradicts is not believed.
func TestMappingWithAnotherDecimalMark(t *testing.T) {
	t.Parallel()
	w := flatAs(t, loadWorkbook(t, "flat")["lamps"][0])
	m, err := mapping.Parse("lanewright mapping 1\ndecimal: comma\n")
	require.NoError(t, err)
	r, err := ReadBytesWith(t.Context(), Options{Mapping: m}, "plant.zip", w.zip(t))
	require.NoError(t, err)
	found := ofCode(r.Findings, CodeMappingDecimal)
	require.Len(t, found, 1)
	assert.Equal(t, failure, found[0].Severity)
}

// An encoding that a mapping remembers opens the next file of its shape.
func TestMappingRemembersTheEncoding(t *testing.T) {
	t.Parallel()
	const text = "Teile-Nr;Linie;Arbeitsplatz;St\xfcck pro Stunde;Beh\xe4lter;L\xe4nge (mm);Breite (mm);H\xf6he (mm);Packmenge;Bezeichnung\n00123;L1;10;12,5;KLT;400;300;220;20;Gl\xfchlampe\n"
	refused, err := ReadBytes(t.Context(), "mai.csv", []byte(text))
	require.NoError(t, err)
	require.NotEmpty(t, ofCode(refused.Findings, sheet.CodeNotUTF8))
	first, err := ReadBytesWith(t.Context(), Options{Mapping: &mapping.Mapping{Encoding: "windows-1252"}}, "mai.csv", []byte(text))
	require.NoError(t, err)
	require.False(t, first.Findings.HasErrors(), "%v", first.Findings)
	assert.Equal(t, "Glühlampe", first.Plant.Parts[0].Description)
	assert.Contains(t, first.Mapping.Text(), "encoding: windows-1252")
	next, err := ReadBytesWith(t.Context(), Options{Known: []*mapping.Mapping{first.Mapping}}, "juni.csv", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, first.Mapping, next.Used)
	assert.Equal(t, "Glühlampe", next.Plant.Parts[0].Description)
}

func TestPreview(t *testing.T) {
	t.Parallel()
	w := flatAs(t, loadWorkbook(t, "flat")["lamps"][0])
	w.set("lamps", "G3", "23 5/8 in").set("lamps", "G1", "Length").set("lamps", "J5", "many")
	r := w.readZip(t)
	require.Len(t, r.Preview, 1)
	p := r.Preview[0]
	require.Len(t, p.Rows, 4)
	assert.Equal(t, "Length", p.Fields[6])
	assert.Equal(t, "600.075 mm", p.Rows[1].Values[6])
	assert.Equal(t, "? many", p.Rows[3].Values[9])
	assert.Equal(t, "reported", p.Rows[3].State)
	assert.Equal(t, "00123", p.Rows[1].Values[0])
}
