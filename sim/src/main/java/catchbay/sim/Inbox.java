package catchbay.sim;

import catchbay.port.PortException;
import catchbay.run.RunInput;

import java.util.ArrayDeque;
import java.util.function.Consumer;

/** What a stand-in port has to tell, bounded; when it is full the next drain says so. */
final class Inbox {

    /** At ten messages a second more than a minute and a half without a drain. */
    private static final int INPUTS_MAX = 1024;

    private final String what;
    private final ArrayDeque<RunInput> inputs = new ArrayDeque<>();
    private boolean overflowed;
    private boolean unplugged;

    Inbox(String what) {
        this.what = what;
    }

    void put(RunInput input) {
        if (inputs.size() == INPUTS_MAX) {
            overflowed = true;
            return;
        }
        inputs.add(input);
    }

    /** From now on every drain fails, or no longer does. */
    void unplug(boolean out) {
        unplugged = out;
    }

    void clear() {
        inputs.clear();
        overflowed = false;
    }

    void drain(Consumer<RunInput> into) throws PortException {
        if (unplugged) {
            throw new PortException(
                    PortException.Kind.GONE,
                    "The adapter of the stand-in "
                            + what
                            + " is gone. Plug it in again and begin again.");
        }
        while (!inputs.isEmpty()) {
            into.accept(inputs.remove());
        }
        if (overflowed) {
            overflowed = false;
            throw new PortException(
                    PortException.Kind.OVERFLOW,
                    "More than "
                            + INPUTS_MAX
                            + " inputs of the stand-in "
                            + what
                            + " waited to be read. The loop turns too slowly.");
        }
    }
}
