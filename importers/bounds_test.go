package importers

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
)

const flatHead = "Part,Cell,Station,Pieces per hour,Container,Length (mm),Width (mm),Height (mm),Standard pack\n"

// TestManyFindingsAreCounted: beyond a number findings of one kind are counted,
// not listed, and every row is accounted for all the same.
func TestManyFindingsAreCounted(t *testing.T) {
	t.Parallel()
	const bad = mostOfKind + 234
	r := readBytes(t, "bad.csv", []byte(flatHead+strings.Repeat("P1,C1,S,x,B,400,300,200,9\n", bad)))
	found := ofCode(r.Findings, CodeBadValue)
	require.Len(t, found, mostOfKind+1)
	assert.Equal(t, "234 more findings of this kind are not listed one by one", found[mostOfKind].Summary, "it stands last")
	assert.Equal(t, finding.Error, found[mostOfKind].Severity)
	assert.Equal(t, Ledger{File: "bad.csv", Sheet: "bad", Kind: "Flat table", Rows: bad + 1, Reported: bad, Skipped: 1}, r.Sheets[0])
}

// TestTooManyRowsAreRefused in words, each of them accounted for.
func TestTooManyRowsAreRefused(t *testing.T) {
	t.Parallel()
	r := readBytes(t, "all.csv", []byte(flatHead+strings.Repeat("P1,C1,S,1,B,400,300,200,9\n", mostRows+1)))
	assert.Len(t, ofCode(r.Findings, CodeTooManyRows), 1)
	assert.True(t, r.Findings.HasErrors())
	assert.Empty(t, r.Plant.Usage)
	assert.Equal(t, Ledger{File: "all.csv", Sheet: "all", Kind: "Flat table", Rows: mostRows + 2, Skipped: mostRows + 2}, r.Sheets[0])
}
