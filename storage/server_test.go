package storage

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/archive"
)

func TestServerIsJudged(t *testing.T) {
	t.Parallel()
	good := server{Number: 150000, Version: "15.0", Encoding: "UTF8", Fsync: "on", FullPageWrites: "on", SynchronousCommit: "on"}
	with := func(change func(*server)) server {
		s := good
		change(&s)
		return s
	}
	for _, c := range []struct {
		name            string
		server          server
		usable, durable string
	}{
		{"good", good, "", ""},
		{"newer", with(func(s *server) { s.Number = 180001 }), "", ""},
		{"commits to the standby too", with(func(s *server) { s.SynchronousCommit = "remote_apply" }), "", ""},
		{"commits here only", with(func(s *server) { s.SynchronousCommit = "local" }), "", ""},
		{"too old", with(func(s *server) { s.Number, s.Version = 140012, "14.12" }), "PostgreSQL 14.12; version 15 or newer", ""},
		{"encoding", with(func(s *server) { s.Encoding = "SQL_ASCII" }), "SQL_ASCII", ""},
		{"standby", with(func(s *server) { s.Recovery = true }), "standby", ""},
		{"fsync", with(func(s *server) { s.Fsync = "off" }), "", "set fsync = on"},
		{"pages", with(func(s *server) { s.FullPageWrites = "off" }), "", "set full_page_writes = on"},
		{"commit", with(func(s *server) { s.SynchronousCommit = "off" }), "", "set synchronous_commit = on"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			checkSentence(t, c.server.usable(), c.usable)
			checkSentence(t, c.server.durable(), c.durable)
		})
	}
}

func checkSentence(t *testing.T, err error, sentence string) {
	t.Helper()
	if sentence == "" {
		assert.NoError(t, err)
		return
	}
	assert.ErrorIs(t, err, archive.ErrUnsuitable)
	assert.ErrorContains(t, err, sentence)
}
