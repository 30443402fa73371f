package text

// Words of the invented report of package charttest, so that a story page or
// a printed example of it reads as a real one does.
const enCharttest = `charttest.mishit: Much shorter than this player’s other balls: kept in the spread, counted little in the comparison.
charttest.headline: Set the club to {0}.
charttest.why.sleeve: Loft up closes the face a little and starts the ball further left.
charttest.why.weight: Weight towards the heel takes some of the curve to the right away.
charttest.flip: If the miss to the left became as costly as the one to the right, the present setting would be as good.
charttest.next: It is the likely answer and was hit with few balls.
`
