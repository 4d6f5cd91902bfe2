// Package diagnosis reasons from what a rider felt, saw and measured to likely
// causes, the check that settles them and one change worth trying. It is not a
// book: it knows nothing of entries, bikes or clocks.
//
// # Format of the knowledge
//
// The knowledge is JSON under knowledge/, decoded strictly: an unknown field
// is an error.
//
//   - sources.json: id, title, kind. Each link names one; CP is common
//     practice, no source.
//   - sources.json also holds the disputes: on what the sources disagree. A link
//     with "disputed" shows that doubt in the answer.
//   - findings.json: id; phase (braking, turn-in, mid-corner, drive-out,
//     straight, side-to-side, over-bumps, whole-lap, or empty); end (front,
//     rear, whole); kind (felt, tyre, check, measured); words for the rider;
//     phrases, each a few concepts of words.json that are said of it; tyre
//     (place, edge, direction, texture), to draw a mark; risk, why it must not
//     be asked for on purpose.
//   - words.json: id of a concept; says, the words and turns of speech for it; not,
//     the concept that its denial means.
//   - facts.json: id, words, phrases of what a book may know.
//   - causes-FAMILY.json: family, title and its causes. A cause has id, title,
//     why, prior (chance per complaint, common practice), stage (safety,
//     straightness, tyres, springs, geometry, damping, rider), tell (how it
//     differs from look-alikes), check (how, minutes, tools, and the finding
//     that confirms it, and clear, the parts whose being good says no), remedy
//     (adjuster, direction and steps, or words for a job; expect, wrong, undo,
//     side, caution, minutes, tools), stop (why one must not ride, else
//     absent), like (look-alikes), links (finding, strength, source) and facts
//     (fact, times: what the fact multiplies the odds by, source). Its cases
//     say which cause comes first, given findings and facts.
//
// Strength is a word: always, usually, often, sometimes, rarely. Chance gives
// each its probability, in one place.
//
// # What it answers
//
// [Network.Diagnose] ranks the causes and says what to do: Stop before First
// before Change, Plan for the whole order of work, Pairs for two at once.
// [Network.Learn] and [Network.With] take in this bike's verdicts,
// [Network.WeighAdvice] weighs what somebody said, [Network.RepeatCard] helps
// to repeat a thing on purpose.
package diagnosis
