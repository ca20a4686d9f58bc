/**
 * The rules of the house as tests: who may see whom, which calls are banned, how sources are kept.
 * Tests of what the program does belong beside the code they test.
 */
package catchbay.architecture;
