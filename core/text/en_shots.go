package text

// The words of package clean: what is said of a shot and of a session.
const enShots = `clean.tag.mis-hit: You called it a mis-hit: it counts in what happens, and little in what a setting does.
clean.tag.toe: You called it a toe strike: it counts in what happens, and little in what a setting does.
clean.tag.heel: You called it a heel strike: it counts in what happens, and little in what a setting does.
clean.tag.high: You called it a high strike: it counts in what happens, and little in what a setting does.
clean.tag.low: You called it a low strike: it counts in what happens, and little in what a setting does.
clean.tag.out: You left it out.
clean.unset: Nobody said how the club was set: not compared.
clean.unplaced: “{0}” is none of this club’s settings: not compared. Choose how the club was set, or add that setting on the page Club.
clean.tag.warmup: You called it a warm-up: kept in the list, not counted.
clean.vouched: You vouched for it: it counts in full.
clean.not_a_number: The {0} is no number.
clean.impossible: No golf ball has a {0} of {1}: the record is wrong and not used.
clean.unusual: A {0} of {1} is unusual for a driver. It counts; look whether it is right.
clean.smash_impossible: A smash factor of {0} is not possible: the record is wrong and not used.
clean.smash_high: A smash factor of {0} is more than a face gives: one of the speeds is probably off. It counts; look whether it is right.
clean.unit_slip: The {0} of {1} looks like another unit: {2} would fit the other shots. Nothing was changed.
clean.identity.smash: Its smash factor is not its ball speed divided by its club speed.
clean.identity.spin: Its backspin and sidespin do not add up to its spin.
clean.identity.axis: Its spin axis does not fit its backspin and sidespin.
clean.identity.face: Its face-to-path is not its face less its path.
clean.identity.roll: Its roll is not its total less its carry.
clean.identity.total: Its total is shorter than its carry.
clean.identity.curve: Its curve does not fit its start line and where it landed.
clean.identity.loft: Its spin loft is less than dynamic loft minus attack angle.
clean.identities.smash: In {0} of {1} {1:shot|shots} the smash factor is not ball speed divided by club speed: the file computes it otherwise, or one speed is off.
clean.identities.spin: In {0} of {1} {1:shot|shots} backspin and sidespin do not add up to the spin.
clean.identities.axis: In {0} of {1} {1:shot|shots} the spin axis does not fit backspin and sidespin.
clean.identities.face: In {0} of {1} {1:shot|shots} face-to-path is not face less path.
clean.identities.roll: In {0} of {1} {1:shot|shots} the roll is not total less carry.
clean.identities.total: In {0} of {1} {1:shot|shots} the total is shorter than the carry: look whether the two columns are swapped.
clean.identities.curve: In {0} of {1} {1:shot|shots} the curve does not fit start line and landing: the file defines it otherwise.
clean.identities.loft: In {0} of {1} {1:shot|shots} spin loft is less than dynamic loft minus attack angle: the file defines it otherwise.
clean.duplicate: The same numbers as shot {0}: hit twice, or written twice? It counts until you say otherwise.
clean.duplicate_files: The same ball stands in {0}, line {1}: counted once.
clean.other_ball: Hit with another ball ({0}); the session compares {1}. Kept in the list, not counted.
clean.other_ball_unnamed: Hit with another ball than most shots. Kept in the list, not counted.
clean.balls: {0} of {1} {1:shot|shots} {0:was|were} hit with another ball and {0:is|are} left out: balls differ by more than settings do.
clean.mishit.far: A mis-hit: {0} of {1}, where this setting usually gives {2}. It counts in what happens, and little in what a setting does.
clean.mishit.smash: A mis-hit: smash factor {0}, usually {1}. It counts in what happens, and little in what a setting does.
clean.mishit.smash_low: A mis-hit, or a false club speed: smash factor {0}.
clean.mishit.strike: A mis-hit: struck {0} from the middle of the face.
clean.mishit.carry: A mis-hit: carry {0}, usually {1}.
clean.flight: Its {0} of {1} does not fit its launch: about {2} would. It counts; look whether it is right.
clean.indoors: Indoors a device sees a few metres of flight: carry, height and landing are computed, not measured.
clean.computed: Carry follows the launch numbers too closely to have been tracked: it is computed by the device.
clean.drift.fell: The {0} fell by {1} over the session ({2} in ten balls). The comparison allows for it.
clean.drift.rose: The {0} rose by {1} over the session ({2} in ten balls). The comparison allows for it.
clean.warmup: The first balls were slower: {0} was {1} lower than later. Hit a few more before you count.
clean.tired: The last ten balls were slower: {0} fell by {1}. Rest, or stop for today.
clean.blocks.all: Each of the {0} {0:setting|settings} was hit in one go: what the setting did and what time did (learning, tiring, wind) cannot be separated. Come back to each setting once more.
clean.blocks.some: {0} {0:setting was|settings were} hit in one go. Coming back to {1} shows how much time changed; for the others it is a guess.
clean.aliased: {0} and {1} were always changed together: which of the two did it cannot be told.
clean.aliased.split: {0} and {1} were always changed together: which of the two did it cannot be told. Five balls with {2} would.
clean.feature.lean: Loft of the sleeve
clean.feature.upright: Lie
clean.feature.toe: Weight to toe or heel
clean.feature.back: Weight to front or back
clean.feature.mass: Head weight
clean.spin_told: In {0} of {1} {1:shot|shots} the device estimated the spin instead of measuring it.
clean.spin_repeats: A spin of exactly {0} stands in {1} {1:shot|shots}: the device probably estimated it.
clean.counts: {3} {3:shot|shots}: {0} {0:mis-hit|mis-hits} that {0:counts|count} less, {1} {1:wrong record|wrong records}, {2} left out; {4} to be looked at.
clean.mishit_rate: {1} of {2} {2:ball|balls} with {0} {1:was a mis-hit|were mis-hits}, against {3} of {4} with the other settings. That, too, is a result.
`
