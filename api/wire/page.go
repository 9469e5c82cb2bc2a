package wire

// Page is a part of a list. Next is the cursor of the page after it and is
// left out on the last one.
type Page[T any] struct {
	Items []T    `json:"items"`
	Total int    `json:"total,omitempty" doc:"length of the whole list, where it is known"`
	Next  string `json:"next,omitempty" doc:"cursor of the next page"`
}
