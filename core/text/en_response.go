package text

// What the fitted response says of itself.
const enResponse = `response.conflict: Your ball reacts unlike the textbook. The settings you hit are trusted more than the physics, and predictions for the others are wider.
response.contradicted: {0}: the balls landed elsewhere than the model says. Their own average counts for more, within wider limits.
response.contradiction: {0}: by your shots, {1} changes by {2}; the textbook expects {3}.
response.confounded: These shots can hardly tell {0} from {1}: the two were changed together.
response.confounded.resolve: These shots can hardly tell {0} from {1}: the two were changed together. {3} {3:ball|balls} with “{2}” would tell them apart.
response.blocks: Each setting was hit in one block, so setting and time cannot be told apart: warming up or tiring may look like a setting. Hit the settings again in the opposite order.
response.move: {0}: carry {1} ({2} to {3}), side {4} ({5} to {6}), height {7} ({8} to {9}). {10} of what is known of it comes from your shots, the rest is physics.
response.move.physics: {0}: carry {1} ({2} to {3}), side {4} ({5} to {6}), height {7} ({8} to {9}). All of it is physics: your shots never changed it.
response.not-tried: These shots never changed {0}: what is said of it is physics alone.
feature.lean: the loft of the sleeve
feature.upright: the lie
feature.toe: the weight between heel and toe
feature.back: the weight between front and back
feature.mass: the mass of the head
feature.time: the time in the session
feature.ball: the kind of ball
feature.day: the day
feature.setting: the setting
feature.lean.step: One degree more loft
feature.upright.step: One degree more upright
feature.toe.step: The head’s centre 1 mm towards the toe
feature.back.step: The head’s centre 1 mm towards the back
feature.mass.step: One gram more head mass
`
