package catchbay.app;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.BayContact;
import catchbay.run.RunInput;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * The bay's contacts, which tell how they stand when the port is opened and from then on only what
 * changes: here every run of a series is told again how they stand.
 */
final class KnownContacts implements Source {

    private final Source source;
    private final Timekeeper time;
    private final Map<BayContact, Boolean> known = new EnumMap<>(BayContact.class);
    private boolean due;

    private KnownContacts(Source source, Timekeeper time) {
        this.source = source;
        this.time = time;
    }

    /** Takes the place of the contacts among these sources. */
    static KnownContacts among(List<RunLoop.NamedSource> sources, Timekeeper time) {
        for (int i = 0; i < sources.size(); i++) {
            RunLoop.NamedSource named = sources.get(i);
            if (named.name().equals(PortKind.CONTACTS.key())) {
                KnownContacts contacts = new KnownContacts(named.source(), time);
                sources.set(i, new RunLoop.NamedSource(named.name(), contacts));
                return contacts;
            }
        }
        throw new IllegalArgumentException("a bay's ports always have a source of contacts");
    }

    /** The next drain tells how all contacts stood after the last one, before what is new. */
    void tellAgain() {
        due = true;
    }

    /** A contact that was active after the last drain, and while it is lets no run go on. */
    Optional<BayContact> held() {
        return known.entrySet().stream()
                .filter(one -> one.getValue() && one.getKey().endsRuns())
                .map(Map.Entry::getKey)
                .findFirst();
    }

    @Override
    public void drain(Consumer<RunInput> into) throws PortException {
        if (due) {
            due = false;
            long now = time.monotonicNanos();
            known.forEach(
                    (contact, active) -> into.accept(new RunInput.Contact(now, contact, active)));
        }
        source.drain(input -> {
            if (input instanceof RunInput.Contact(long _, BayContact contact, boolean active)) {
                known.put(contact, active);
            }
            into.accept(input);
        });
    }

    @Override
    public void close() {
        source.close();
    }
}
