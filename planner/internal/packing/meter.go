package packing

import "context"

// meter counts elementary operations: a comparison, a cell of a table, an
// entry of a matrix. The same seed and limit use the same operations on every
// machine.
type meter struct {
	ctx        context.Context
	used, most int64
	// next is when the caller is asked again whether to stop.
	next      int64
	cancelled bool
}

// askEvery is the number of operations between two looks at the context.
const askEvery = 1 << 18

func newMeter(ctx context.Context, most int64) *meter { return &meter{ctx: ctx, most: most} }

// spend counts n operations and reports whether to go on.
func (m *meter) spend(n int64) bool {
	m.used += n
	if m.used >= m.next && !m.cancelled {
		m.next = m.used + askEvery
		m.cancelled = m.ctx.Err() != nil
	}
	return m.on()
}

// on reports whether there is time left.
func (m *meter) on() bool { return m.used < m.most && !m.cancelled }

// within runs f with at most n operations more.
func (m *meter) within(n int64, f func()) {
	most := m.most
	m.most = min(most, m.used+n)
	f()
	m.most = most
}
