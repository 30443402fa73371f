//go:build !fetched

package text

// Words that stand on a page before the program has started, and in the
// description of the app, and what the command line alone says: the programs for the
// browser do without them.
func init() { outside = enSite + enPrior }

const enSite = `site.description: Fit an adjustable golf club from your own shots: what each setting does for you, how sure that is, and what to hit next. Works offline; nothing leaves your device.
site.home: Ferrule compares the settings of an adjustable club from the shots you hit, and says which one to keep, how sure that is, and what is worth hitting next. Everything is computed on this device; nothing is sent anywhere.
site.club: What you are adjusting, and what you want from it.
site.shots: What you hit: typed in, pasted, or from a file.
site.compare: Is the difference between two settings real?
site.choose: How to set the club, how sure that is, and what to hit next.
site.sheet: One page to take home.
site.shared: A fitting sheet that somebody shared with you.
site.settings: Units, theme, language and storage.
site.how: The method in plain words, its limits and its sources.
site.visits: Compare two visits: what has changed, and whether to test again.
site.live: One view of a session for everybody who stands around it.
site.client: A second window: the last ball in large numbers and the pattern, no names and no buttons.
site.story: Every part of the screens, with invented numbers.
site.lost.title: There is no such page
site.lost: The address may be mistyped.
site.seen: As you saw it last. The program is starting.
site.worked: The example’s answer, worked out beforehand. The program is starting.
site.not-at-root: Ferrule cannot run in a folder of an address ({0}): its files must stand at the root. Give it a name of its own, or use ferrule serve.
`

// What `ferrule prior` prints.
const enPrior = `prior.title: What physics expects of each adjustment before a ball is hit, with its doubt, beside what others say.
prior.player: For {0} of ball speed, {1} launch, {2} spin; delivered loft {3}, grip {4}, bounce {5}.
prior.scale: The figures of others were mostly given for about 95 mph of club speed.
prior.wide: wide on purpose: theory and practice disagree by about two
prior.share: Share of the start direction that follows the face
prior.face1: Face 1° open: end of the ball
prior.face2: Face 2° open: end of the ball
prior.face-axis: Face 1° open: tilt of the spin axis
prior.range-launch: Loft over a sleeve’s 4.5° (squared): launch
prior.range-apex: Loft over a sleeve’s 4.5° (squared): height (practice: about 40 ft, for fast players)
prior.loft-spin: Loft +1.5° (squared): spin
prior.less-loft-speed: Loft −1.5° (squared): ball speed
prior.upright-direction: Lie 1° upright: start direction
prior.upright-lateral: Lie 1° upright: end of the ball
prior.heel-side: Centre of mass 1 mm to the heel: side spin
prior.step: A weight one stop to the heel (1.1 mm): landing place
prior.track: A weight over its whole track to the heel (4.5 mm): landing place
prior.mass-ball: Head 26 g heavier: ball speed
prior.mass-spin: Head 26 g heavier: spin
prior.mass-direction: Head 26 g heavier: start direction
prior.mass-club: Head 26 g heavier: club speed
prior.toe-axis: Strike 10 mm to the toe: tilt of the spin axis
prior.toe-speed: Strike 12.7 mm to the toe: ball speed
prior.high-spin: Strike 10 mm high: spin
`
