/**
 * Opening serial lines, keeping them open and moving what they deliver to the run belongs here;
 * what the bytes mean is read in {@link catchbay.signal}.
 */
package catchbay.hardware.serial;
