/**
 * The honesty study: catches with a known truth, drawn from what a bay states of its errors, and
 * how often the interval that the bay prints holds that truth.
 */
package catchbay.sim.honesty;
