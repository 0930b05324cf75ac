package symbol

import "sync"

// Memory remembers codes by their text, since one is laid out several times on
// its way to a sheet. The zero value is ready; it may be used from many sides at
// once, and a nil one makes each code anew.
type Memory struct{ made sync.Map }

// QR is QR, made once for each text.
func (m *Memory) QR(text string) (Matrix, error) {
	if m == nil {
		return QR(text)
	}
	if old, ok := m.made.Load(text); ok {
		return old.(Matrix), nil
	}
	one, err := QR(text)
	if err == nil {
		m.made.Store(text, one)
	}
	return one, err
}
