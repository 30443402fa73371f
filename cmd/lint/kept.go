package main

// fingerprint is why a field of the report stays that nothing shows.
const fingerprint = "part of what testdata/same holds each report against: it goes when the reports are made anew"

// kept are fields that stay although no program sets or reads them, and why.
// One that a program does use fails the lint too.
var kept = map[string]string{
	"core/flight.aero.fixed":                "a test flies other models through the same solver",
	"core/flight.flyer.even":                "a test halves equal steps to measure the order of convergence",
	"core/flight.flyer.evals":               "tests bound the work of a flight by it",
	"core/flight.Point.T":                   "when the ball is at a point: tests hold it against the landing",
	"core/flight.Calibration.Used":          "diagnostics: tests read what a calibration rests on",
	"core/flight.Provenance.Side":           "diagnostics: the published table prints it",
	"core/impact.Calibration.RestitutionSD": "diagnostics: tests hold the error against it",
	"core/impact.Calibration.Off":           "diagnostics: every strike is used, off the middle or unexplained",
	"core/impact.Calibration.Unexplained":   "diagnostics: every strike is used, off the middle or unexplained",
	"core/clean.Result.MainBall":            "diagnostics: which ball the others were compared with",
	"core/bayes.Posterior.Scatter":          "diagnostics: with Df the whole of the inverse Wishart",
	"core/bayes.Posterior.Settled":          "tests hold that the fit of each kind of session ends by itself",
	"core/record.Belief.Spread":             "tests solve the same model whole with it",
	"core/record.Belief.Head":               "tests solve the same model whole with it",
	"core/report.Air.Home":                  fingerprint,
	"core/report.Air.Temperature":           fingerprint,
	"core/report.Air.Wind":                  fingerprint,
	"core/report.AirBlock.Balls":            fingerprint,
	"core/report.Move.Step":                 fingerprint,
	"core/report.Earlier.ID":                "tests tell visits of one title apart by it",
	"core/response.Confound.Share":          "diagnostics: how strongly two things are mixed up",
	"core/response.Response.Physics":        "diagnostics: what is left of the textbook",
	"core/response.Effect.SD":               "tests hold errors against it, which Value rounds to quantiles",
	"core/share.Link.Version":               "tests read links of every version",
}
