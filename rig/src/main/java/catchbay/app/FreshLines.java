package catchbay.app;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.Source;
import catchbay.run.RunInput;
import catchbay.signal.PulseLine;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;

/**
 * The bay's pulse lines, whose edges are numbered from one when the port is opened: here every run
 * of a series has its own numbers from one, so that a run whose window opens before the first edge
 * does not take those of the runs before it for lost.
 */
final class FreshLines implements Source {

    private Source source;
    private final Map<PulseLine, Long> last = new EnumMap<>(PulseLine.class);
    private final Map<PulseLine, Long> before = new EnumMap<>(PulseLine.class);
    private boolean due;

    private FreshLines(Source source) {
        this.source = source;
    }

    /** Takes the place of the pulses among these sources. */
    static FreshLines among(List<RunLoop.NamedSource> sources) {
        for (int i = 0; i < sources.size(); i++) {
            RunLoop.NamedSource named = sources.get(i);
            if (named.name().equals(PortKind.PULSES.key())) {
                FreshLines lines = new FreshLines(named.source());
                sources.set(i, new RunLoop.NamedSource(named.name(), lines));
                return lines;
            }
        }
        throw new IllegalArgumentException("a bay's ports always have a source of pulses");
    }

    /** Another run begins: what came since the last drain belongs to none. */
    void begin() {
        due = !last.isEmpty();
    }

    /** The lines were opened anew, as those of another meter: their edges are numbered from one. */
    void reopened(Source opened) {
        source = opened;
        last.clear();
        before.clear();
        due = false;
    }

    @Override
    public void drain(Consumer<RunInput> into) throws PortException {
        if (due) {
            due = false;
            source.drain(this::heard);
            before.putAll(last);
            return;
        }
        source.drain(input -> {
            heard(input);
            into.accept(input instanceof RunInput.Edges edges ? renumbered(edges) : input);
        });
    }

    private void heard(RunInput input) {
        if (input instanceof RunInput.Edges edges) {
            last.put(edges.line(), edges.batch().lastSequence());
        }
    }

    private RunInput.Edges renumbered(RunInput.Edges edges) {
        long first = edges.batch().firstSequence() - before.getOrDefault(edges.line(), 0L);
        return new RunInput.Edges(edges.line(), edges.batch().numberedFrom(first));
    }

    @Override
    public void close() {
        source.close();
    }
}
