package placement

import (
	"fmt"
	"strconv"
	"strings"
)

// modelTags gives codes short names of letters, digits, dots and hyphens. "_" is
// in none of them, so that a column's name can be taken apart again.
type modelTags struct {
	c *cell
	// known are the tags by kind and code; taken those that a kind has.
	known map[[2]string]string
	taken map[[2]string]bool
}

// longestTag bounds a tag, so that a name of five stays far below what the
// readers of the format take.
const longestTag = 36

func newModelTags(c *cell) modelTags {
	return modelTags{c, map[[2]string]string{}, map[[2]string]bool{}}
}

// of returns the tag of a code; codes of one kind never share one.
func (t modelTags) of(kind, code string) string {
	if tag, ok := t.known[[2]string{kind, code}]; ok {
		return tag
	}
	return t.unique(kind, kind, code, plainTag(code))
}

// added returns the tag of the k-th rack that is added of a type.
func (t modelTags) added(code string, k int) string {
	return t.unique("rack", "added", fmt.Sprintf("%d %s", k, code), fmt.Sprintf("%s.new%d", t.of("type", code), k))
}

// unique keeps a tag for a code that no other code of its space has.
func (t modelTags) unique(space, kind, code, base string) string {
	tag := base
	for n := 2; t.taken[[2]string{space, strings.ToLower(tag)}]; n++ {
		tag = base + "." + strconv.Itoa(n)
	}
	t.taken[[2]string{space, strings.ToLower(tag)}] = true
	t.known[[2]string{kind, code}] = tag
	return tag
}

// plainTag puts a dot in place of what a name may not have.
func plainTag(code string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.', r == '-':
			return r
		}
		return '.'
	}, code)
	if len(plain) > longestTag {
		plain = plain[:longestTag]
	}
	return plain
}

// loop names loop i by its part and station.
func (t modelTags) loop(i int) string {
	l := &t.c.loops[i]
	return t.of("part", string(l.Part)) + "_" + t.of("station", string(l.Station))
}

// numbered adds a number to a name.
func numbered(name string, n int) string { return fmt.Sprintf("%s_%d", name, n) }
