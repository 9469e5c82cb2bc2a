package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/finding"
)

func at(row int) finding.Origin {
	return finding.Origin{File: "plant.xlsx", Sheet: "Parts", Row: row, Column: "D"}
}

func TestWriteFindings(t *testing.T) {
	t.Parallel()
	list := finding.List{
		{Severity: finding.Error, Code: "parts.unknown-container", Summary: `"K9" is no container`, Remedy: "Add it.", Origin: at(4)},
		{Severity: finding.Note, Code: "plant.quiet", Summary: "nothing", Remedy: "Leave it."},
		{Severity: finding.Error, Code: "parts.unknown-container", Summary: `"K8" is no container`, Remedy: "Add it.", Origin: at(5)},
		{Severity: finding.Error, Code: "parts.unknown-container", Summary: `"K7" is no container`, Remedy: "Mend it.", Origin: at(6)},
	}
	var b strings.Builder
	writeFindings(&b, list)
	assert.Equal(t, `error parts.unknown-container (3)
  plant.xlsx, Parts!D4: "K9" is no container
  plant.xlsx, Parts!D5: "K8" is no container
    Add it.
  plant.xlsx, Parts!D6: "K7" is no container
    Mend it.

note plant.quiet (1)
  the whole plant: nothing
    Leave it.

`, b.String())
}

func TestWriteFindingsCutsLongGroups(t *testing.T) {
	t.Parallel()
	var list finding.List
	for i := range shown + 7 {
		list = append(list, finding.Finding{Severity: finding.Warning, Code: "a.b", Summary: fmt.Sprintf("row %d", i), Remedy: "Mend it.", Origin: at(i + 1)})
	}
	var b strings.Builder
	writeFindings(&b, list)
	assert.Equal(t, shown, strings.Count(b.String(), ": row "))
	assert.Equal(t, 1, strings.Count(b.String(), "Mend it."), "one remedy for all")
	assert.Contains(t, b.String(), "warning a.b (57)")
	assert.Contains(t, b.String(), "and 7 more of this code")
}

func TestWrapKeepsEveryWord(t *testing.T) {
	t.Parallel()
	text := strings.Repeat("container ", 40)
	wrapped := wrap(text, "  ")
	assert.Equal(t, strings.Fields(text), strings.Fields(wrapped))
	for line := range strings.SplitSeq(wrapped, "\n") {
		assert.LessOrEqual(t, len(line), 96)
	}
}

func TestShare(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "["+strings.Repeat("#", 15)+strings.Repeat(".", 15)+"] 7 of 14", share(7, 14))
	assert.Equal(t, "["+strings.Repeat("#", 30)+"] 15 of 14", share(15, 14), "never beyond its end")
	assert.Empty(t, share(1, 0))
}
