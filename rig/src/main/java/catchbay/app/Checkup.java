package catchbay.app;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.record.CheckupText;
import catchbay.record.CheckupText.Done;
import catchbay.record.CheckupText.Head;
import catchbay.record.TraceLine;
import catchbay.run.BayComputer;
import catchbay.run.RunSetup;
import catchbay.store.DataFolder;
import catchbay.store.JournalFile;
import catchbay.store.JournalFolder;
import catchbay.store.RecordStore;
import catchbay.store.StoreException;
import catchbay.store.TraceFolder;

import java.io.IOException;
import java.io.PrintStream;
import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/** Opens a bay, has it checked all round, and keeps what came out. Used once. */
final class Checkup {

    private static final String KIND = "checkup";

    private final Settings settings;
    private final Optional<String> by;
    private final boolean alone;
    private final PrintStream err;

    /**
     * @param settings the bay's settings, with their scale chosen
     * @param by who answers for it
     * @param alone whether nobody is there to lend a hand: then nothing moves
     * @param err where it says what it does
     */
    Checkup(Settings settings, Optional<String> by, boolean alone, PrintStream err) {
        this.settings = settings;
        this.by = by;
        this.alone = alone;
        this.err = err;
        by.ifPresent(who -> settings.refuseStrangers("--by", who));
    }

    /**
     * Checks the bay.
     *
     * @param page prints the result; done before a signal may end the program
     */
    Done done(Consumer<Done> page) throws PortException, StoreException, IOException {
        Optional<String> truck = settings.anyTruck();
        RunSetup provisional = settings.setup(truck, LocalDate.EPOCH);
        try (BayPorts bay = BayPorts.withTime(settings, provisional)) {
            Instant now = bay.time().wallTime();
            LocalDate day = LocalDate.ofInstant(now, settings.zone());
            try (DataFolder folder = DataFolder.open(settings.data(), now.atZone(settings.zone()));
                    RecordStore store = folder.openRecords()) {
                TraceFolder traces = folder.traces();
                Map<PortKind, PortException> refused = new EnumMap<>(PortKind.class);
                RunLoop.Ports ports = bay.openWhatOpens(settings.setup(truck, day), refused::put);
                TraceLine.Origin origin = TraceLine.Origin.of(bay.simulated());
                KnownTests tests = KnownTests.of(settings, origin);
                RunSetup setup = tests.applied(settings.setup(truck, day));
                BayComputer clock = new Bookkeeping(traces, store).clock(bay.time(), now);
                BayComputer besides =
                        bay.time().movesOnlyInSleep()
                                ? clock
                                : clock.and(BayComputer.ofFreeBytes(traces.freeBytes()));
                JournalFolder checkups = folder.checkups();
                Head head =
                        new Head(
                                FreeName.at(now, KIND, checkups::has),
                                origin,
                                setup.bay(),
                                day,
                                by,
                                alone);
                BayRound.Bay known = new BayRound.Bay(settings, setup, bay, refused, besides);
                return kept(head, known, ports, checkups, page);
            }
        }
    }

    private Done kept(
            Head head,
            BayRound.Bay known,
            RunLoop.Ports ports,
            JournalFolder checkups,
            Consumer<Done> page)
            throws IOException {
        try (StopSignal stop = StopSignal.listening(ports.time());
                JournalFile file = checkups.begin(head.name(), CheckupText.begun(head))) {
            BayRound round = new BayRound(known, ports.endedBy(stop), file, err);
            Done done = round.made(head);
            file.append(CheckupText.of(done));
            page.accept(done);
            return done;
        }
    }
}
