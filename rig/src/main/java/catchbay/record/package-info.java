/**
 * The trace and the run document as text (writing, reading every released version, hash chain)
 * belong here; deciding a run and keeping records in a database do not.
 */
package catchbay.record;
