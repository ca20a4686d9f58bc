package catchbay.hardware.relay;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.run.RunInput;

import com.pi4j.context.Context;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.function.Consumer;

/**
 * The bay's contacts: how they stand at the first drain, and from then on what changes. The kernel
 * keeps 1024 changes of each, so no thread is needed beside the loop.
 */
final class Contacts implements Source {

    private record Wired(ContactWire wire, ChipInput input) {}

    private final Context context;
    private final MonotonicClock clock;
    private final List<Wired> contacts = new ArrayList<>();

    /** Pi4J swallows what its listeners throw, so they only collect. */
    private final Queue<RunInput> changes = new ArrayDeque<>();

    private boolean told;

    /**
     * @param inputs the contacts' lines, in the order of the wires
     */
    Contacts(
            Context context,
            List<ContactWire> wires,
            List<ChipInput> inputs,
            MonotonicClock clock) {
        this.context = context;
        this.clock = clock;
        for (int i = 0; i < wires.size(); i++) {
            ContactWire wire = wires.get(i);
            inputs.get(i).addListener(event -> changes.add(change(wire, (StampedChange) event)));
            contacts.add(new Wired(wire, inputs.get(i)));
        }
    }

    private static RunInput change(ContactWire wire, StampedChange event) {
        return new RunInput.Contact(event.stampNanos(), wire.contact(), wire.active(event.state()));
    }

    @Override
    public void drain(Consumer<RunInput> into) throws PortException {
        long now = clock.nanos();
        try {
            for (Wired wired : contacts) {
                wired.input.look();
            }
        } finally {
            if (told) {
                changes.forEach(into);
            } else {
                // What changed before is in how they stand now.
                told = true;
                contacts.forEach(wired ->
                        into.accept(
                                new RunInput.Contact(
                                        now,
                                        wired.wire.contact(),
                                        wired.wire.active(wired.input.state()))));
            }
            changes.clear();
        }
    }

    @Override
    public void close() {
        context.shutdown();
    }
}
