package api

import (
	"bytes"
	"encoding/base64"
	"net/http"
	"strconv"
	"unicode/utf8"

	"lanewright/api/wire"
)

// PageInput asks for a part of a list.
type PageInput struct {
	Limit  int    `query:"limit" minimum:"1" maximum:"1000" default:"100" doc:"how many items at most"`
	Cursor string `query:"cursor" maxLength:"500" doc:"next of the page before"`
}

// output is an answer with its entity tag. What is stored never changes, but a
// caller shall ask again: the tag makes that cheap.
type output[T any] struct {
	ETag  string `header:"ETag"`
	Cache string `header:"Cache-Control"`
	Body  T
}

const revalidate = "private, no-cache"

// tagged answers with a body that belongs to a tag.
func tagged[T any](tag string, body T) *output[T] {
	return &output[T]{ETag: tag, Cache: revalidate, Body: body}
}

// current answers with a body that may change: its tag is that of its bytes.
func current[T any](body T) *output[T] { return tagged(tagOf(body), body) }

// cursor hides what a list goes on from, so that nobody builds on it.
func cursor(from string) string { return base64.RawURLEncoding.EncodeToString([]byte(from)) }

// from reads a cursor; the empty one starts at the beginning.
func (p PageInput) from() (string, error) {
	b, err := base64.RawURLEncoding.DecodeString(p.Cursor)
	if err != nil || !utf8.Valid(b) || bytes.IndexByte(b, 0) >= 0 {
		return "", badCursor()
	}
	return string(b), nil
}

// fromNumber reads a cursor that holds a number, 0 at the beginning.
func (p PageInput) fromNumber() (int64, error) {
	text, err := p.from()
	if err != nil || text == "" {
		return 0, err
	}
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 0 {
		return 0, badCursor()
	}
	return n, nil
}

func badCursor() error {
	p := problem(http.StatusUnprocessableEntity, sentences[http.StatusUnprocessableEntity])
	p.Errors = []wire.BadField{{Message: "not a cursor of this list", Location: "query.cursor"}}
	return p
}

// cut takes a page out of a whole list that never changes.
func cut[T any](all []T, in PageInput) (wire.Page[T], error) {
	n, err := in.fromNumber()
	if err != nil {
		return wire.Page[T]{}, err
	}
	start := int(min(n, int64(len(all))))
	end := min(start+in.Limit, len(all))
	page := wire.Page[T]{Items: all[start:end:end], Total: len(all)}
	if end < len(all) {
		page.Next = cursor(strconv.Itoa(end))
	}
	return page, nil
}

// paged converts what a store returned for limit+1 items: the one too many
// says that there is another page, after the last one shown.
func paged[A, B any](items []A, limit int, convert func(A) B, key func(A) string) wire.Page[B] {
	page := wire.Page[B]{Items: []B{}}
	if len(items) > limit {
		items = items[:limit]
		page.Next = cursor(key(items[limit-1]))
	}
	for _, a := range items {
		page.Items = append(page.Items, convert(a))
	}
	return page
}

// filter returns the items that keep says yes to; the result is never nil.
func filter[T any](items []T, keep func(T) bool) []T {
	out := []T{}
	for _, x := range items {
		if keep(x) {
			out = append(out, x)
		}
	}
	return out
}

// is reports whether a filter is not asked for, or met.
func is(want, have string) bool { return want == "" || want == have }
