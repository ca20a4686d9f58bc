/** The honesty study on a small scale, and whether it would find a dishonest bay. */
package catchbay.sim.honesty;
