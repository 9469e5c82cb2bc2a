//go:build linux || darwin || freebsd

package embedded

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestChooseVersion(t *testing.T) {
	t.Parallel()
	of := func(majors ...int) (list []binaries) {
		for _, m := range majors {
			list = append(list, binaries{"/v", m})
		}
		return list
	}
	for _, c := range []struct {
		name     string
		found    []binaries
		data     int
		want     int
		sentence string
	}{
		{"one", of(15), 0, 15, ""},
		{"newest", of(15, 17, 16), 0, 17, ""},
		{"that of the data", of(15, 17, 16), 16, 16, ""},
		{"none", nil, 0, 0, "apt install postgresql; Fedora: dnf install postgresql-server; macOS: brew install postgresql"},
		{"too old", of(13, 14), 0, 0, "only version 13, 14 is installed"},
		{"not that of the data", of(17), 15, 0, "made by version 15 and only 17 is installed; install version 15"},
		{"data of an old version", of(13, 17), 13, 0, "only version 13, 17"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			b, err := choose(c.found, c.data)
			if c.sentence == "" {
				assert.NoError(t, err)
				assert.Equal(t, c.want, b.major)
				return
			}
			assert.ErrorIs(t, err, ErrNoPostgres)
			assert.ErrorContains(t, err, c.sentence)
		})
	}
}

func TestSocketDir(t *testing.T) {
	t.Parallel()
	long := "/" + strings.Repeat("d", 100)
	for _, c := range []struct{ dir, temp, prefix string }{
		{"/var/lib/lanewright/postgres", "/tmp", "/var/lib/lanewright/postgres/socket"},
		{long, "/var/tmp", "/var/tmp/lanewright-"},
		{long, long, "/tmp/lanewright-"},
	} {
		got := socketDir(c.dir, c.temp)
		assert.True(t, strings.HasPrefix(got, c.prefix), got)
		assert.LessOrEqual(t, len(got)+1+len(socketName), longestSocket)
	}
	assert.NotEqual(t, socketDir(long+"1", "/tmp"), socketDir(long+"2", "/tmp"))
}

func TestTailKeepsTheEnd(t *testing.T) {
	t.Parallel()
	var last tail
	for range 100 {
		n, err := last.Write([]byte("a line of the server's log\n"))
		assert.NoError(t, err)
		assert.Equal(t, 27, n)
	}
	_, err := last.Write([]byte("FATAL: the end\n"))
	assert.NoError(t, err)
	assert.True(t, strings.HasSuffix(last.String(), "; FATAL: the end"))
	assert.LessOrEqual(t, len(last.String()), 2*tailSize)
}
