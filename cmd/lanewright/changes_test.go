package main

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/importers/export"
)

// TestManyChanges: fifty of a kind are listed, the others counted.
func TestManyChanges(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]string{shown: "", shown + 2: "    and 2 more added\n"} {
		var list []export.Change
		for i := range n {
			list = append(list, export.Change{Sheet: "Parts", What: export.Added, Key: fmt.Sprint(i)})
		}
		var b bytes.Buffer
		writeSheetChanges(&b, list)
		assert.Equal(t, shown, strings.Count(b.String(), "    added "))
		assert.True(t, strings.HasSuffix(b.String(), "added "+fmt.Sprint(shown-1)+"\n"+want), b.String())
	}
}
