/**
 * A simulated bay with a known truth, virtual time, faults from a seed and a stand-in for every
 * port belong here; anything that a real bay needs does not.
 */
package catchbay.sim;
