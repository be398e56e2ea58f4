package lesson

// SeedOn is Seed with a table that was made before, so that a thousand sheets of few heads are seeded quickly.
var SeedOn = seedOn
