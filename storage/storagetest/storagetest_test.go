package storagetest_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/storage/storagetest"
)

func TestNew(t *testing.T) {
	t.Parallel()
	a, b := storagetest.New(t), storagetest.New(t)
	require.NoError(t, a.Ping(t.Context()))
	current, latest, err := a.MigrationStatus(t.Context())
	require.NoError(t, err)
	require.Equal(t, latest, current)
	require.Positive(t, latest)
	_, err = a.Pool().Exec(t.Context(), `insert into facts.plants (name) values ('only in a')`)
	require.NoError(t, err)
	plants, err := b.Plants(t.Context(), "", 0)
	require.NoError(t, err)
	require.Empty(t, plants)
}
