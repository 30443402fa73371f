package wire

// Progress tells how far a request is. It crosses on its own, before the
// Result.
type Progress struct {
	ID   uint64
	Step string  // text key of what is being done
	Done float64 // [1] 0..1
}

// Again is the step of a request that is begun anew because its worker gave no
// sign of life.
const Again = "again"
