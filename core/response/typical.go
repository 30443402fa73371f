package response

// Typical is the ball about which a fit of in is linear [SI]: what the
// physics prior is sampled around, so it is needed before the fit.
func Typical(in Input) ([K]float64, error) {
	r := Response{in: in, today: len(in.Shots)}
	err := r.centre()
	return r.Centre, err
}
