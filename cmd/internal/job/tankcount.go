package job

// TankCount is how many readings of a batch the workshop has. Readings are only
// ever added, so whatever was worked out of a batch holds as long as there are as
// many.
func (w *Workshop) TankCount(batch string) (int, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return 0, err
	}
	defer s.Close()
	return s.ReadingCount(batch)
}
