package storage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/archive"
	"lanewright/storage/storagetest"
)

func TestMappings(t *testing.T) {
	t.Parallel()
	db := storagetest.New(t)
	ctx := t.Context()
	none, err := db.Mappings(ctx, "North works")
	require.NoError(t, err)
	assert.Empty(t, none)
	require.NoError(t, db.SaveMapping(ctx, "North works", "a1", "first"))
	require.NoError(t, db.SaveMapping(ctx, "North works", "b2", "other"))
	require.NoError(t, db.SaveMapping(ctx, "North works", "a1", "second"))
	require.NoError(t, db.SaveMapping(ctx, "South works", "a1", "theirs"))
	list, err := db.Mappings(ctx, "North works")
	require.NoError(t, err)
	require.Len(t, list, 2)
	assert.Equal(t, "a1", list[0].Shape, "the latest comes first")
	assert.Equal(t, "second", list[0].Text)
	assert.False(t, list[0].Created.IsZero())

	require.NoError(t, db.RemoveMapping(ctx, "North works", "a1"))
	require.ErrorIs(t, db.RemoveMapping(ctx, "North works", "a1"), archive.ErrNotFound)
	require.ErrorIs(t, db.RemoveMapping(ctx, "a\x00", "a1"), archive.ErrNotFound)
	list, err = db.Mappings(ctx, "South works")
	require.NoError(t, err)
	assert.Len(t, list, 1)
	_, err = db.Mappings(ctx, "a\x00")
	require.NoError(t, err)
}
