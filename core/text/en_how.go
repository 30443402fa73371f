package text

// How it works: the method in plain words, its limits, its sources.
const enHow = `how.lead: The method in plain words, what it cannot do, and where it comes from.
how.does: What it does
how.does.1: An adjustable club can be set in many ways, and a person can hit only so many balls. Five balls with a setting do not tell whether it is longer: the balls of one player differ more among themselves than most settings do.
how.does.2: So Ferrule puts together what your balls say with what geometry and physics say a setting should do, weighs the two by how sure each is, and predicts every setting of your club, also those that you have not hit.
how.does.3: Then it asks what each setting is worth to you: strokes on a hole, carry, fairways or a height window, as you said before you began.
how.model: How a prediction is made
how.model.1: Geometry: turning the sleeve tilts the shaft in the head. Loft, lie and face move together, and how much of it reaches the ball depends on whether you turn the face back to square. That share is learned from your shots.
how.model.2: Impact: head and ball meet as bodies with mass and inertia. From that comes how ball speed, launch and spin should react to a change.
how.model.3: Your shots: all settings are fitted together, with your club speed, the place of the strike and the order of hitting taken out where they were measured.
how.model.4: Flight: each launch is flown through the air of your session, down to the landing, and rolls on the ground that you named.
how.sure: How sure it is
how.sure.1: Every number comes with an interval. Of ten such intervals, eight hold the truth.
how.sure.2: Words follow the chance that a setting beats today’s: clear above 95 %, likely above 85 %, leaning above 65 %, else it cannot be told. Keeping what you have is a good answer.
how.sure.3: With many settings one looks good by luck. The fit draws all of them towards what physics expects, so that luck counts for less.
how.flags: Flagged balls
how.flags.1: A mis-hit is judged by one rule for all settings and never by where it went. It stays in what you can expect of a setting and counts little in what the setting does.
how.flags.2: A record that cannot be true is set aside with its reason. You have the last word on every ball.
how.flags.3: When two things were changed together, or a setting was hit only early or only late, the program says that they cannot be told apart.
how.limits: What it cannot do
how.limits.1: It does not see you swing, and it knows nothing of shaft, length or grip changes between the balls.
how.limits.2: Indoors the carry is the device’s own computation. Range balls fly differently; differences on the same ball are more trustworthy than distances.
how.limits.3: Not every player reacts to a setting as the textbook says: in a published blind test three in ten did not. The program sees that only in your shots.
how.limits.4: Wind is taken as steady. On the course you aim, think and stand differently than on the range.
how.limits.5: A predicted setting is a reason to hit five balls with it, not a fact.
how.limits.6: It is no lesson, no medical advice, and does not take the place of a qualified fitter or instructor.
how.questions: Questions
how.questions.1: Which setting against a curve away from me? First a face that closes, then weight to the heel; then look whether the miss has become a pull. In a published blind test three in ten did not respond.
how.questions.2: Does more loft close the face? With the club set down as it lies, yes. At impact it depends on you.
how.questions.3: Does a more upright lie cure such a curve? Barely, on a driver.
how.questions.4: How many balls? To be sure of 5 yards of carry, often more than a hundred a setting. Compare shows the number for your own spread.
how.questions.5: Is low spin best? No. Too little and the ball drops out of the air.
how.questions.6: Left-handed? Say so under Club. All words and drawings follow your hand.
how.questions.7: May I change it during a round? No: Rule 4.1a(3).
how.privacy: Privacy
how.privacy.1: Everything is worked out and stored in this browser. There is no account and no server that could read it.
how.privacy.2: A link carries the session in itself, after the # sign, which browsers do not send. Names are left out unless you tick them.
how.sources: Sources
how.sources.1: Rules: the Rules of Golf (Rule 4.1a(3)) and the equipment rules of the two governing bodies.
how.sources.2: Flight: published wind-tunnel and launcher measurements of golf balls; the standard atmosphere.
how.sources.3: Impact: rigid-body impact with published coefficients of restitution and of friction, and published inertias of heads.
how.sources.4: Worth of a landing place: published averages of strokes to finish a hole by distance and lie.
how.sources.5: Statistics: Bayesian linear models in conjugate and robust form, checked against other programs.
how.sources.6: Each source stands by name in the file REFERENCES.md beside the code, and each number that has no source is marked as common practice.
how.proof: Measured
how.proof-missing: The tables did not come: check the connection and open this page again.
how.proof.1: What is claimed here, beside what was published or measured; cases that miss stay in. The program’s own tests write these tables, in English.
how.licences: Licences of the parts that others wrote
`
