package cutting

import "context"

// meter counts elementary operations. The same seed and limit use the same
// operations on every machine.
type meter struct {
	ctx              context.Context
	used, most, next int64
	cancelled        bool
}

// askEvery is the number of operations between two looks at the context.
const askEvery = 1 << 18

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
