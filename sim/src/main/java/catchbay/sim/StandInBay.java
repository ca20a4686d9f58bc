package catchbay.sim;

import catchbay.run.RunSetup;

/**
 * The one stand-in bay that the ports of a run share. Its world begins when it is first looked at,
 * so that it may stand beside real ports on the real clock.
 */
public final class StandInBay {

    private final RunSetup setup;
    private SimOptions options;
    private World world;

    /** A bay for a run, with the options that seed 1 draws until others are given. */
    public StandInBay(RunSetup setup) {
        this.setup = setup;
    }

    /** Takes the options of the world to be; too late once it has begun. */
    public void options(SimOptions chosen) {
        if (world != null) {
            throw new IllegalStateException(
                    "the stand-in world has begun, its options cannot change any more");
        }
        options = chosen;
    }

    /** The world, played up to a moment of the run's monotonic clock. */
    public World at(long nanos) {
        if (world == null) {
            options = options == null ? SimOptions.drawn(1, setup) : options;
            world = new World(setup, options, nanos);
        }
        world.advance(nanos);
        return world;
    }
}
