package mapping

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const sound = `lanewright mapping 1
# a remark
encoding: windows-1252
delimiter: semicolon
decimal: comma

sheet: "Teile"
read as: Flat table
headings: row 5, 2 lines
"Teile-Nr." = Part
"Länge" = Length in mm   # as the drawing says
"Sa \"B\"" = -
"Menge" = ? Standard pack or Pieces per day
`

func TestParseAndText(t *testing.T) {
	t.Parallel()
	m, err := Parse(sound)
	require.NoError(t, err)
	assert.Equal(t, ',', m.Decimal)
	assert.Equal(t, ";", m.Delimiter)
	require.Len(t, m.Tables, 1)
	table := m.Tables[0]
	assert.Equal(t, 5, table.Row)
	assert.Equal(t, 2, table.Lines)
	require.Len(t, table.Columns, 4)
	assert.Equal(t, "mm", table.Columns[1].Unit)
	assert.Equal(t, `Sa "B"`, table.Columns[2].Heading)
	assert.Equal(t, []string{"Standard pack", "Pieces per day"}, table.Columns[3].Candidates)
	assert.Equal(t, []string{`sheet "Teile", heading "Menge": Standard pack or Pieces per day?`}, m.Questions())
	again, err := Parse(m.Text())
	require.NoError(t, err)
	assert.Equal(t, m, again)
}

func TestParseSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	for text, says := range map[string]string{
		"":         "begins with",
		"sheet: x": "line 1: a mapping begins with",
		"lanewright mapping 1\nencoding: klingon":                                      "line 2: the encoding",
		"lanewright mapping 1\ndelimiter: dot":                                         "the delimiter is",
		"lanewright mapping 1\ndecimal: dot":                                           "point or comma",
		"lanewright mapping 1\ncolour: red":                                            "is not known",
		"lanewright mapping 1\nread as: Parts":                                         "belongs behind",
		"lanewright mapping 1\n\"A\" = Part":                                           "belongs behind",
		"lanewright mapping 1\nrubbish":                                                "neither a heading",
		"lanewright mapping 1\nsheet: x\nread as: Things":                              "no kind of sheet",
		"lanewright mapping 1\nsheet: \"x":                                             "no closing quote",
		"lanewright mapping 1\nsheet: x\nheadings: 5th":                                "write headings",
		"lanewright mapping 1\nsheet: x\nheadings: row 1, 9 lines":                     "1 or 2 lines",
		"lanewright mapping 1\nsheet: x\nread as: Parts\n\"A\" = Prt":                  "did you mean Part?",
		"lanewright mapping 1\nsheet: x\nread as: Parts\n\"A\" =":                      "needs a column",
		"lanewright mapping 1\nsheet: x\nread as: Parts\n\"A\" Part":                   "needs =",
		"lanewright mapping 1\nsheet: x\nread as: Parts\n\"A = Part":                   "no closing quote",
		"lanewright mapping 1\nsheet: x\nread as: Parts\n\"A\" = Piece mass in stones": "unit",
		"lanewright mapping 1\nsheet: x\nread as: Parts\n\"A\" = Part\n\"B\" = Part":   "two headings mean Part",
	} {
		_, err := Parse(text)
		require.ErrorContains(t, err, says, "%q", text)
	}
}

// FuzzParse: no text breaks the reader, and what it reads it can write and
// read again.
func FuzzParse(f *testing.F) {
	f.Add(sound)
	f.Add("lanewright mapping 1\nsheet: x\nread as: -\n")
	f.Fuzz(func(t *testing.T, text string) {
		m, err := Parse(text)
		if err != nil {
			return
		}
		again, err := Parse(m.Text())
		require.NoError(t, err, m.Text())
		require.Equal(t, m.Shape(), again.Shape())
	})
}
