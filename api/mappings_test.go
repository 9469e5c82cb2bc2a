package api_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/wire"
)

const oddTable = "Teile-Nr.,Linie,Arbeitsplatz,Stück pro Stunde,Behälter,Länge (mm),Breite (mm),Höhe (mm),Menge\n00123,L1,10,12.5,KLT,400,300,220,20\n"

// TestMappings: a mapping is proposed, answered, kept, used and forgotten.
func TestMappings(t *testing.T) {
	t.Parallel()
	const odd = "/api/v1/plants/Odd%20works"
	h, _ := filled(t)
	require.Equal(t, 422, call(t, h, "POST", odd+"/imports?name=odd.csv", oddTable).Code)
	w := call(t, h, "POST", odd+"/proposals?name=odd.csv", oddTable)
	require.Equal(t, 200, w.Code, "%s", w.Body)
	p := decode[wire.Proposal](t, w)
	require.Len(t, p.Questions, 1)
	require.Len(t, p.Tables, 1)
	assert.Equal(t, "00123", p.Tables[0].Rows[0].Values[0])
	assert.Equal(t, "400 mm", p.Tables[0].Rows[0].Values[5])
	assert.Equal(t, wire.ProposedColumn{Heading: "Teile-Nr.", Column: "Part", Certainty: "synonym", Candidates: []string{}, Samples: []string{}}, p.Mapped[0].Columns[0])
	assert.Equal(t, "asked", p.Mapped[0].Columns[8].Certainty)
	assert.Equal(t, []string{"20"}, p.Mapped[0].Columns[8].Samples)

	body := func(text string) string {
		b, err := json.Marshal(wire.MappingText{Text: text})
		require.NoError(t, err)
		return string(b)
	}
	for text, says := range map[string]string{p.Text: "still asks", "rubbish": "begins with"} {
		w = call(t, h, "POST", odd+"/mappings", body(text), "Content-Type: application/json")
		require.Equal(t, 422, w.Code)
		assert.Contains(t, w.Body.String(), says)
	}
	head, _, _ := strings.Cut(p.Text, `"Menge" = ?`)
	answered := head + "\"Menge\" = Standard pack\n"
	w = call(t, h, "POST", odd+"/mappings", body(answered), "Content-Type: application/json")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	kept := decode[wire.Mapping](t, w)
	assert.Equal(t, p.Shape, kept.Shape)
	assert.Len(t, decode[[]wire.Mapping](t, call(t, h, "GET", odd+"/mappings", "")), 1)

	w = call(t, h, "POST", odd+"/imports?name=odd.csv", oddTable)
	require.Equal(t, 201, w.Code, "%s", w.Body)
	assert.Equal(t, kept.Shape, decode[wire.Import](t, w).Mapping)
	assert.True(t, decode[wire.Proposal](t, call(t, h, "POST", odd+"/proposals?name=odd.csv", oddTable)).Known)

	// What the next file would change.
	w = call(t, h, "POST", odd+"/imports?dry_run=true&name=odd.csv", strings.Replace(oddTable, ",20\n", ",25\n", 1))
	require.Equal(t, 200, w.Code, "%s", w.Body)
	changes := decode[wire.Import](t, w).Changes
	assert.Equal(t, 1, changes.Against)
	require.Len(t, changes.Sheets, 1)
	assert.Equal(t, "Parts", changes.Sheets[0].Sheet)
	assert.Equal(t, []wire.ValueDelta{{Column: "Standard pack", Old: "20", New: "25"}}, changes.Sheets[0].Rows[0].Values)

	// Some sheets onto the latest revision.
	w = call(t, h, "POST", odd+"/imports?dry_run=true&onto=-1&name=Containers.csv", "Container,Length (mm),Width (mm),Height (mm)\nKLT,400,300,250\n")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	changes = decode[wire.Import](t, w).Changes
	require.Len(t, changes.Sheets, 1, "%s", w.Body)
	assert.Equal(t, 1, changes.Sheets[0].Changed)
	require.Equal(t, 404, call(t, h, "POST", odd+"/imports?onto=7&name=odd.csv", oddTable).Code)

	require.Equal(t, 204, call(t, h, "DELETE", odd+"/mappings/"+kept.Shape, "").Code)
	require.Equal(t, 404, call(t, h, "DELETE", odd+"/mappings/"+kept.Shape, "").Code)
	require.Equal(t, 422, call(t, h, "POST", odd+"/imports?name=odd.csv", oddTable).Code)

	// A mapping may come with the file, and is kept.
	form := "--x\r\nContent-Disposition: form-data; name=\"mapping\"\r\n\r\n" + answered + "\r\n" +
		"--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"odd.csv\"\r\n\r\n" + oddTable + "\r\n--x--\r\n"
	w = call(t, h, "POST", odd+"/imports", form, "Content-Type: multipart/form-data; boundary=x")
	require.Equal(t, 200, w.Code, "%s", w.Body)
	assert.Len(t, decode[[]wire.Mapping](t, call(t, h, "GET", odd+"/mappings", "")), 1)
}

// TestProposalOfAnOldEncoding: what a text would look like is shown, and it is
// read once somebody says which it is.
func TestProposalOfAnOldEncoding(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	old := strings.NewReplacer("ü", "\xfc", "ä", "\xe4", "ö", "\xf6", "Menge", "Packmenge").Replace(oddTable)
	p := decode[wire.Proposal](t, call(t, h, "POST", plantPath+"/proposals?name=odd.csv", old))
	assert.Empty(t, p.Text)
	require.NotEmpty(t, p.Encodings)
	assert.Equal(t, "windows-1252", p.Encodings[0].Encoding)
	assert.Contains(t, p.Encodings[0].Line, "Behälter")
	p = decode[wire.Proposal](t, call(t, h, "POST", plantPath+"/proposals?name=odd.csv&encoding=windows-1252", old))
	assert.Contains(t, p.Text, "encoding: windows-1252")
	assert.Empty(t, p.Questions)
	require.Equal(t, 422, call(t, h, "POST", plantPath+"/proposals?name=odd.csv&encoding=klingon", old).Code)
}
