package patterns

import "context"

// Meter counts elementary operations: a comparison, a cell of a table, an
// entry of a matrix. The same seed and limit use the same operations on every
// machine.
type Meter struct {
	ctx context.Context
	// Used are the operations so far, Most those there are.
	Used, Most int64
	// Cancelled says that the caller wants no more.
	Cancelled bool
	// next is when the caller is asked again.
	next int64
}

// AskEvery is the number of operations between two looks at the context.
const AskEvery = 1 << 18

// NewMeter counts up to so many operations, fewer where the context is done.
func NewMeter(ctx context.Context, most int64) *Meter { return &Meter{ctx: ctx, Most: most} }

// Spend counts n operations and reports whether to go on.
func (m *Meter) Spend(n int64) bool {
	m.Used += n
	if m.Used >= m.next && !m.Cancelled {
		m.next = m.Used + AskEvery
		m.Cancelled = m.ctx.Err() != nil
	}
	return m.On()
}

// On reports whether there is time left.
func (m *Meter) On() bool { return m.Used < m.Most && !m.Cancelled }

// Within runs f with at most n operations more.
func (m *Meter) Within(n int64, f func()) {
	most := m.Most
	m.Most = min(most, m.Used+n)
	f()
	m.Most = most
}
