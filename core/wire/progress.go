package wire

// Progress tells how far a request is. It crosses on its own, before the
// Result.
type Progress struct {
	ID   uint64
	Step string  // text key of what is being done
	Done float64 // [1] 0..1
}
