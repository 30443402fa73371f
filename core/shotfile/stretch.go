package shotfile

// stretch is how many balls in a row are asked by themselves whether they go the
// way of the file, and opposed the log likelihood by which they then say no.
const (
	stretch = 16
	opposed = 3
)

// throughout makes a question of a sign that some balls in a row contradict: another
// device may have written them, or the same one set otherwise, on a day that the
// file does not tell from the day before.
func (r relation) throughout(ts []track, axisName string) relation {
	for from := 0; r.sign != 0 && len(ts) >= 2*stretch && from < len(ts); {
		to := from + 1
		for to < len(ts) && (to-from < stretch && ts[to].block == ts[from].block || len(ts)-to < stretch/2) {
			to++
		}
		if _, part := flightSigns(ts[from:to], axisName); part.lead*r.sign <= -opposed {
			r.sign, r.torn = 0, true
		}
		from = to
	}
	return r
}
