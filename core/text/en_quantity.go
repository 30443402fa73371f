package text

// Ways that a ball goes. The quantities have their English names in shot.Kinds.
const enQuantity = `way.straight: straight
way.draw: draw
way.fade: fade
way.hook: hook
way.slice: slice
way.push: push
way.pull: pull
way.is: shape
way.curved: {0}: curved {1}
way.whole: {0}: started {1}, curved {2}
`
