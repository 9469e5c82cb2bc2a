package sheet_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

// TestBrokenFiles: every code of reading has a file that raises it, in words
// and in time.
func TestBrokenFiles(t *testing.T) {
	t.Parallel()
	raised := map[string]bool{}
	for _, f := range sheets.Broken() {
		raised[f.Code] = true
		t.Run(f.Name, func(t *testing.T) {
			t.Parallel()
			began := time.Now()
			book, err := sheet.Read(t.Context(), f.Name, f.Data, sheet.DefaultLimits())
			assert.Less(t, time.Since(began), 10*time.Second)
			var refused *sheet.Refused
			if errors.As(err, &refused) {
				assert.Equal(t, f.Code, refused.Code, refused.Error())
				assert.NotEmpty(t, refused.Summary)
				assert.NotEmpty(t, refused.Detail)
				assert.NotEmpty(t, refused.Remedy)
				return
			}
			require.NoError(t, err)
			var codes []string
			for _, n := range book.Notes {
				codes = append(codes, n.Code)
			}
			assert.True(t, slices.Contains(codes, f.Code), "%s is not said, but %v", f.Code, codes)
		})
	}
	for _, p := range sheet.Pages() {
		assert.True(t, raised[p.Code], "no broken file raises %s", p.Code)
		delete(raised, p.Code)
	}
	assert.Empty(t, raised, "codes that there are not")
}
