package finding

// Page explains one code to somebody who meets it for the first time. Every
// package that raises codes offers its pages.
type Page struct {
	Code string
	// Title is one line: what the code means.
	Title string
	// Text is one paragraph: why it matters and what to do.
	Text string
}
