package pipeline

import (
	"ferrule/core/decide"
	"ferrule/core/flight"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// Follow compares two visits of one player: each is analysed by itself, then
// what the same settings did is compared, with what the other air does left
// out. The same session twice gives differences of nothing.
func Follow(before, now shot.Session, sd uint64, progress Progress) (report.FollowUp, error) {
	if a, b := before.Player.Hand.OrRight(), now.Player.Hand.OrRight(); a != b {
		return report.FollowUp{}, message.New("problem.two-hands")
	}
	part := func(from float64) Progress {
		return func(stage string, share float64) {
			if progress != nil {
				progress(stage, from+share/2)
			}
		}
	}
	then, err := Analyse(before, sd, part(0))
	if err != nil {
		return report.FollowUp{}, message.New("problem.earlier", err)
	}
	later, err := Analyse(now, sd, part(.5))
	if err != nil {
		return report.FollowUp{}, message.New("problem.later", err)
	}
	air, err := airShift(before, now, then)
	if err != nil {
		return report.FollowUp{}, err
	}
	return decide.FollowUp(then, later, air), nil
}

// airShift is what the air of the later visit does to the ball of the earlier
// one: its mean launch with its reference setting, flown in both.
func airShift(before, now shot.Session, then report.Report) (decide.Shift, error) {
	was, err := environment(rightHanded(before).Stated())
	if err != nil {
		return nil, message.New("problem.earlier", err)
	}
	is, err := environment(rightHanded(now).Stated())
	if err != nil {
		return nil, message.New("problem.later", err)
	}
	if was.Air == is.Air || then.Reference >= len(then.Settings) {
		return nil, nil
	}
	ref := then.Settings[then.Reference]
	mean := func(q shot.Quantity) float64 { a, _ := ref.Of(q); return a.Value.Mean }
	hand := before.Player.Hand.OrRight()
	l := flight.Launch{Speed: mean(shot.BallSpeed), Angle: mean(shot.Launch), Direction: hand.Mirror(mean(shot.LaunchDirection)),
		Spin: mean(shot.Spin), Axis: hand.Mirror(mean(shot.SpinAxis))}
	a, err1 := flight.Fly(l, was)
	b, err2 := flight.Fly(l, is)
	if err1 != nil || err2 != nil {
		return nil, nil // no typical ball to fly: the air is left as it is
	}
	return decide.Shift{shot.Carry: b.Carry - a.Carry, shot.Offline: hand.Mirror(b.Offline - a.Offline), shot.Apex: b.Apex - a.Apex}, nil
}
