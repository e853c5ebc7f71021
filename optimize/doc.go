// Package optimize searches a space of ordered integers for the best trade-offs between several objectives.
//
// In: a Problem (a space of genes, a canonical key for every point, an evaluator per worker) and a Config. Out: a Result
// with the front of non-dominated variants, what was evaluated, and why the search stopped. It does not know what a gene
// means, nor what is being designed: it is tested on toy problems.
//
// The parts never look inside each other: the problem evaluates, the model (on eaopt's interfaces) proposes, the archive
// keeps, the stop decides and says why, the recorder only looks.
//
// Determinism. The same problem, seed and configuration give the same result, bit for bit, with any number of workers:
// every generator is derived from (seed, population, generation, slot), evaluation is a pure function of a variant's
// key, and every list is put in a total order before it is used. Only a stop by time looks at a clock; it records the
// count of evaluations, and a run with that count as its limit ends with the same result.
package optimize
