package importers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPlantNamedAfterAnOddFile: a plant that no sheet names gets a name that
// can be shown and stored.
func TestPlantNamedAfterAnOddFile(t *testing.T) {
	t.Parallel()
	r, err := ReadBytes(t.Context(), "C:\\plans\\Beh\xe4lter\x00 works.csv", []byte("Part,Cell,Station\nA,B,C\n"))
	require.NoError(t, err)
	assert.Equal(t, "Beh\ufffdlter works", r.Plant.Name)
}
