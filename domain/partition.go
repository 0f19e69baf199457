package domain

// Divisible tells that the design speaks of a partition: an intent opens or
// closes it or counts in one of its states only, or a cell of the matrix does.
func (d *Design) Divisible() bool {
	for i := range d.Intents {
		if in := &d.Intents[i]; in.Partition != "" || in.MovesPartition() {
			return true
		}
	}
	for i := range d.Links {
		if d.Links[i].Do.If != "" {
			return true
		}
	}
	return false
}

// MovesPartition tells that the intent says what state the partition is in.
func (in *Intent) MovesPartition() bool { return in.Do == PartitionJoins || in.Do == PartitionParts }
