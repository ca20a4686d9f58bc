package catchbay.sim.device;

import catchbay.app.CommandProvider;

/** Brings the command {@code stand-in} to the program. */
public final class StandInCommands implements CommandProvider {

    @Override
    public Object command() {
        return new StandInCommand();
    }
}
