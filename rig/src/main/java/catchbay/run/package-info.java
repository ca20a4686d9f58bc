/**
 * The course of one catch as a pure function (plan, sealed run state, inputs, commands, interlocks)
 * belongs here; clocks, lines, files and people at a screen do not, they reach it only as inputs.
 */
package catchbay.run;
