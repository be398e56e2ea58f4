package backdrop

// FromEnv is for the tests, which live in a package of their own: test imports in this one would delay its init.
var FromEnv = fromEnv

// WhyFrom is for them too.
var WhyFrom = whyFrom
