package archive_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/planner/archive"
)

func TestCheckName(t *testing.T) {
	t.Parallel()
	for _, good := range []string{"North works", "Über 9 – Werk (B)", "a?b#c%", "...", "工場", strings.Repeat("ü", 100)} {
		assert.NoError(t, archive.CheckName(good), "%q", good)
	}
	for what, bad := range map[string]string{
		"nothing": "", "a space": " ", "space around": "a ", "this folder": ".", "the folder above": "..", "a slash": "a/b",
		"a backslash": `a\b`, "a line end": "a\nb", "NUL": "a\x00", "broken UTF-8": "a\xff", "a character nobody could read": "a\ufffd",
		"no width": "a\u200bb", "another direction": "\u202eb", "a space that is none": "a\u00a0b", "too long": strings.Repeat("ü", 101),
	} {
		assert.ErrorIs(t, archive.CheckName(bad), archive.ErrBadName, "%s: %q", what, bad)
	}
}
