package fonts

import "sync"

// memo keeps what was read from a face: a batch sets the same few dozen glyphs
// thousands of times. A face has finitely many, which bounds it. The zero value is
// ready, and goroutines may share it.
type memo[K comparable, V any] struct {
	mu   sync.RWMutex
	done map[K]V
}

func (m *memo[K, V]) get(k K, read func() V) V {
	m.mu.RLock()
	v, ok := m.done[k]
	m.mu.RUnlock()
	if ok {
		return v
	}
	v = read()
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.done == nil {
		m.done = map[K]V{}
	}
	m.done[k] = v
	return v
}
