package catchbay.sim.demo;

import catchbay.app.CommandProvider;

/** Brings the command {@code demo} to the program. */
public final class DemoCommands implements CommandProvider {

    @Override
    public Object command() {
        return new DemoCommand();
    }
}
