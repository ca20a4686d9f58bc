package catchbay.sim;

import catchbay.run.RunSetup;

import java.util.function.Supplier;

/**
 * The one stand-in bay that the ports of a run share. Its world begins when it is first looked at,
 * so that it may stand beside real ports on the real clock.
 */
public final class StandInBay {

    private RunSetup setup;
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

    /**
     * Its pulse lines are opened for a run with this setup.
     *
     * @param truth behind the reference meter of the setup
     */
    void fit(RunSetup chosen, Supplier<SimOptions.Bay> truth) {
        if (world == null) {
            setup = chosen;
        } else {
            world.fit(chosen, truth.get());
        }
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
