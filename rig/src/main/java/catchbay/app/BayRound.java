package catchbay.app;

import catchbay.metrology.WeightCheck;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.quantity.Mass;
import catchbay.record.CheckupText;
import catchbay.record.CheckupText.Done;
import catchbay.record.CheckupText.Head;
import catchbay.record.ScaleTestText;
import catchbay.run.BayCommand;
import catchbay.run.BayCommand.Way;
import catchbay.run.BayComputer;
import catchbay.run.BayContact;
import catchbay.run.CheckItem;
import catchbay.run.CheckRules;
import catchbay.run.CheckTask;
import catchbay.run.EdgeSpan;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.Reported;
import catchbay.run.ScaleTask;
import catchbay.run.SetupCheck;
import catchbay.signal.PulseLine;
import catchbay.signal.TemperaturePlace;
import catchbay.store.JournalFile;

import java.io.IOException;
import java.io.PrintStream;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Goes round an open bay and looks at one thing after another. Nothing moves before a person has
 * confirmed the cautions; whatever happens, the outputs are safe in the end. Used once.
 */
final class BayRound {

    /**
     * The bay that is gone round.
     *
     * @param settings of the bay, with their scale chosen
     * @param setup of a catch of today
     * @param ports as they were opened
     * @param refused which did not open, and why
     * @param besides what is known of the computer besides what it says itself
     */
    record Bay(
            Settings settings,
            RunSetup setup,
            BayPorts ports,
            Map<PortKind, PortException> refused,
            BayComputer besides) {}

    /** For so long nothing may be counted. Common practice, no source. */
    private static final long QUIET_NANOS = 60_000_000_000L;

    /** A person has so long to bring a contact to a state, or to see something move. */
    private static final long HAND_NANOS = 60_000_000_000L;

    /** Pulses are sent for so long. Common practice, no source. */
    private static final long LOOP_NANOS = 10_000_000_000L;

    /** Longer than any output takes to rise to a rate. */
    private static final long RISE_NANOS_MAX = 65_000_000_000L;

    /** After a change of rate the first pulses are not looked at for so long. */
    private static final long LOOP_SETTLE_NANOS = 1_000_000_000;

    /** After the stop a pulse on its way may still come for so long. */
    private static final long LOOP_STOP_NANOS = 200_000_000;

    /** The drain stays open for so long when it is watched. */
    private static final long DRAIN_NANOS = 5_000_000_000L;

    /** Less than this is little, whatever a run needs. Common practice, no source. */
    private static final long FREE_BYTES_LEAST = 500_000_000;

    /** Where something may be heard while nothing flows; with none of them nobody need wait. */
    private static final List<PortKind> LISTENED =
            List.of(
                    PortKind.PULSES,
                    PortKind.SCALE,
                    PortKind.CONTROLLER,
                    PortKind.TEMPERATURE,
                    PortKind.PRESSURE,
                    PortKind.CONTACTS);

    private static final List<BayContact> BY_HAND =
            List.of(
                    BayContact.EMERGENCY_STOP,
                    BayContact.HIGH_LEVEL,
                    BayContact.SPILL,
                    BayContact.SUPPLY_LOST,
                    BayContact.ATTENDANT);

    private static final List<BayContact> OF_DIVERTER =
            List.of(
                    BayContact.DIVERTER_TRIGGER,
                    BayContact.DIVERTER_AT_TANK,
                    BayContact.DIVERTER_AT_BYPASS);

    private static final String SETTINGS = "settings";
    private static final String DRAIN = "drain";
    private static final String SUPERVISOR = "supervisor";
    private static final String UNCHOSEN = "no provider is chosen";
    private static final String NOBODY = "nobody confirmed the cautions";

    private final Bay bay;
    private final RunSetup setup;
    private final RunLoop.Ports ports;
    private final BayWatch watch;
    private final JournalFile file;
    private final PrintStream err;
    private final Map<String, CheckItem> items = new LinkedHashMap<>();
    private Optional<String> handless = Optional.empty();

    /**
     * @param ports the open ones, with whatever may end it from outside among the sources
     * @param file takes each item as it is done
     * @param err where it says what it does
     */
    BayRound(Bay bay, RunLoop.Ports ports, JournalFile file, PrintStream err) {
        this.bay = bay;
        this.setup = bay.setup;
        this.ports = ports;
        this.file = file;
        this.err = err;
        var sensors = setup.doubts().temperatures().sensors();
        watch =
                new BayWatch(
                        ports, bay.ports.supervisor(), sensors.places(), sensors.pauseNanosMax());
    }

    /** Goes round; of what was not reached when it was ended nothing is known. */
    Done made(Head head) throws IOException {
        Optional<String> ended = Optional.empty();
        try {
            computer();
            quiet(head.alone());
            span();
            contacts();
            diverter();
            drain();
            loops();
            ended = handless.filter(NOBODY::equals).map(_ -> "Nobody confirmed the cautions.");
        } catch (BayWatch.Ended early) {
            ended = Optional.of(early.getMessage());
        } finally {
            ports.makeSafe();
        }
        openPorts();
        if (ended.isPresent()) {
            notReached();
        }
        bay.ports.supervisor().idle();
        return new Done(head, List.copyOf(items.values()), watch.confirmedBy(), ended);
    }

    private void put(CheckItem item) throws IOException {
        items.put(item.name(), item);
        file.append(CheckupText.item(item));
    }

    private void tell(String what) {
        watch.doing("checkup: " + what);
        err.println("- " + what);
    }

    private void computer() throws IOException {
        tell("computer and settings");
        BayComputer told = bay.ports.computer().state().and(bay.besides);
        put(
                CheckRules.disk(
                        told, Math.max(FREE_BYTES_LEAST, CatchSession.freeBytesWanted(setup, 1))));
        put(CheckRules.clock(told));
        put(CheckRules.supply(told));
        put(supervisor());
        List<String> problems = new ArrayList<>(SetupCheck.problems(setup));
        problems.addAll(PortNeeds.problems(bay.settings, setup));
        put(
                problems.isEmpty()
                        ? CheckItem.passed(SETTINGS, "they fit each other and today's certificates")
                        : CheckItem.failed(
                                SETTINGS,
                                SetupCheck.sentences(problems),
                                "Change " + bay.settings.name() + " as it says."));
    }

    private CheckItem supervisor() {
        return bay.ports.supervisor().isTold()
                ? CheckItem.passed(SUPERVISOR, "it is told of every turn of this checkup")
                : CheckItem.notFitted(SUPERVISOR, "nobody supervises this program now");
    }

    /** The file's last line holds them soon enough: a signal leaves two seconds to close it. */
    private void putLast(CheckItem item) {
        items.put(item.name(), item);
    }

    private void openPorts() {
        for (PortKind kind : PortKind.values()) {
            putLast(port(kind));
        }
    }

    /** A port that opened may still fail while it is used, so it is judged last. */
    private CheckItem port(PortKind kind) {
        String name = "port " + kind.key();
        PortException refused = bay.refused.get(kind);
        if (refused != null) {
            return failed(name, refused);
        }
        Optional<String> failure = watch.failure(kind.key());
        if (failure.isPresent()) {
            return CheckItem.failed(
                    name, failure.get(), "Do what it says, and check the bay again.");
        }
        return isUnchosen(kind)
                ? CheckItem.notFitted(name, UNCHOSEN)
                : CheckItem.passed(
                        name,
                        "opened by " + bay.ports.provider(kind) + ", with this user's permission");
    }

    private static String mend(PortException.Kind kind) {
        return switch (kind) {
            case MISSING -> "Plug it in, or correct its name in the settings.";
            case BUSY -> "End the program that holds it.";
            case FORBIDDEN -> "Add this user to the group that owns the device, and log in again.";
            case GONE -> "Plug it in again, and look at its cable and supply.";
            case UNFIT, OVERFLOW -> "Do what it says, and check the bay again.";
        };
    }

    private boolean isUnchosen(PortKind kind) {
        return bay.ports.provider(kind).equals(AbsentPorts.NAME);
    }

    private boolean isAbsent(PortKind kind) {
        return bay.refused.containsKey(kind)
                || watch.failure(kind.key()).isPresent()
                || isUnchosen(kind);
    }

    private static String absent(PortKind kind) {
        return "port " + kind.key() + " is not there, or failed";
    }

    /** Why nothing may move now by this port; empty when it may. */
    private Optional<String> barred(PortKind by) {
        if (handless.isPresent()) {
            return handless;
        }
        if (isAbsent(by)) {
            return Optional.of(absent(by));
        }
        return alarm();
    }

    private Optional<String> alarm() {
        return BY_HAND.stream()
                .filter(watch::isActive)
                .findFirst()
                .map(contact -> contact.key() + " is active")
                .or(() -> watch.failure(PortKind.OUTPUTS.key()))
                .or(() -> watch.failure(PortKind.PULSE_OUTPUT.key()));
    }

    private static CheckItem failed(String name, PortException failure) {
        return CheckItem.failed(name, failure.getMessage(), mend(failure.kind()));
    }

    private void quiet(boolean alone) throws BayWatch.Ended, IOException {
        if (alone) {
            handless = Optional.of("nobody is there to lend a hand (--alone)");
        } else {
            tell("cautions");
            ports.operator().ask(new CheckTask.Cautions(Cautions.ofCheckup()));
            boolean confirmed =
                    watch.until(
                            () -> watch.confirmedBy().isPresent(), setup.plan().answerNanosMax());
            handless = confirmed ? Optional.empty() : Optional.of(NOBODY);
        }
        boolean listens = LISTENED.stream().anyMatch(kind -> !isAbsent(kind));
        if (listens) {
            tell("nothing may flow or be touched for " + QUIET_NANOS / 1_000_000_000 + " s");
        }
        watch.begin();
        long from = ports.time().monotonicNanos();
        watch.pass(listens ? QUIET_NANOS : 0);
        long to = ports.time().monotonicNanos();
        for (PulseLine line : PulseLine.values()) {
            put(quiet(line, (to - from) / 1e9));
        }
        put(scaleAtRest(from, to));
        put(controllerAtRest());
        put(gauge());
        for (TemperaturePlace place : TemperaturePlace.values()) {
            put(thermometer(place, to));
        }
    }

    /** The lines of this bay, by its setup. */
    private Set<PulseLine> lines() {
        Map<PulseLine, Boolean> fitted = new EnumMap<>(PulseLine.class);
        setup.reference()
                .ifPresent(meter -> {
                    fitted.put(PulseLine.REFERENCE, true);
                    if (meter.twoChannels()) {
                        fitted.put(PulseLine.REFERENCE_SECOND, true);
                    }
                });
        if (setup.reported() instanceof Reported.MeterPulses) {
            fitted.put(PulseLine.TRUCK, true);
        }
        if (setup.asked().pulsesPerMile().isPresent()) {
            fitted.put(PulseLine.SPEED, true);
        }
        if (setup.asked().application() instanceof Application.PreWet(_, _, _, var perPulse)
                && perPulse.isPresent()) {
            fitted.put(PulseLine.FEEDER, true);
        }
        return fitted.keySet();
    }

    private CheckItem quiet(PulseLine line, double seconds) {
        String name = CheckRules.quietName(line);
        EdgeSpan seen = watch.edges(line);
        if (!lines().contains(line) && seen.edges() == 0) {
            return CheckItem.notFitted(name, "the settings need no such line");
        }
        return isAbsent(PortKind.PULSES)
                ? CheckItem.notDone(name, absent(PortKind.PULSES))
                : CheckRules.quiet(line, seen, seconds);
    }

    private CheckItem scaleAtRest(long from, long to) {
        if (setup.scale().isEmpty()) {
            return CheckItem.notFitted(CheckRules.SCALE_AT_REST, "no scale is described");
        }
        return isAbsent(PortKind.SCALE)
                ? CheckItem.notDone(CheckRules.SCALE_AT_REST, absent(PortKind.SCALE))
                : CheckRules.quiet(setup.scale().get(), watch.weights(), from, to);
    }

    private CheckItem controllerAtRest() {
        if (!(setup.reported() instanceof Reported.RunningLine line)) {
            return CheckItem.notFitted(
                    CheckRules.CONTROLLER, "reported.source is not the controller's line");
        }
        return isAbsent(PortKind.CONTROLLER)
                ? CheckItem.notDone(CheckRules.CONTROLLER, absent(PortKind.CONTROLLER))
                : CheckRules.controller(watch.totals(), watch.totalsCount(), line.step());
    }

    private CheckItem gauge() {
        if (isUnchosen(PortKind.PRESSURE)) {
            return CheckItem.notFitted(CheckRules.GAUGE, UNCHOSEN);
        }
        return isAbsent(PortKind.PRESSURE)
                ? CheckItem.notDone(CheckRules.GAUGE, absent(PortKind.PRESSURE))
                : CheckRules.gauge(watch.coupler());
    }

    private CheckItem thermometer(TemperaturePlace place, long now) {
        String name = CheckRules.thermometerName(place);
        if (!setup.doubts().temperatures().sensors().places().contains(place)) {
            return CheckItem.notFitted(name, "temperature.sensors does not name it");
        }
        if (isAbsent(PortKind.TEMPERATURE)) {
            return CheckItem.notDone(name, absent(PortKind.TEMPERATURE));
        }
        BayWatch.Warmth warmth = watch.warmth(place);
        return CheckRules.thermometer(place, warmth.sense(), warmth.readings(), now);
    }

    private void span() throws BayWatch.Ended, IOException {
        if (setup.scale().isEmpty()) {
            put(CheckItem.notFitted(CheckRules.SCALE_SPAN, "no scale is described"));
        } else if (isAbsent(PortKind.SCALE)) {
            put(CheckItem.notDone(CheckRules.SCALE_SPAN, absent(PortKind.SCALE)));
        } else if (handless.isPresent()) {
            put(CheckItem.notDone(CheckRules.SCALE_SPAN, handless.get()));
        } else {
            tell("scale with a weight");
            put(span(setup.scale().get()));
        }
    }

    private CheckItem span(RunSetup.Scale scale) throws BayWatch.Ended {
        var rules = bay.settings.scaleTest(setup, ScaleTestText.Kind.WEIGHTS);
        if (rules.weights().isEmpty()) {
            return CheckItem.notDone(
                    CheckRules.SCALE_SPAN, "no check weights are listed under [scale_test]");
        }
        ScaleReading reading = new ScaleReading(watch.overheard(), setup);
        try {
            Mass before = reading.after(new ScaleTask.Empty());
            Optional<WeightCheck.Load> load =
                    rules.weights().stream()
                            .filter(weight ->
                                    before.kilograms() + weight.mass().kilograms()
                                            <= scale.capacity().kilograms())
                            .max(Comparator.comparingDouble(w -> w.mass().kilograms()));
            if (load.isEmpty()) {
                return CheckItem.notDone(
                        CheckRules.SCALE_SPAN, "every check weight is more than it may carry");
            }
            Mass loaded = reading.after(new ScaleTask.Weight(load.get().name(), load.get().mass()));
            Mass after = reading.after(new ScaleTask.Empty());
            WeightCheck check =
                    WeightCheck.of(
                            before,
                            List.of(load.get()),
                            List.of(loaded),
                            after,
                            new WeightCheck.Reading(
                                    scale.resolution(), setup.doubts().scale().repeatability()),
                            rules.limit(),
                            setup.liquid().air());
            return CheckRules.span(check, scale.unit());
        } catch (ScaleReading.Ended failure) {
            watch.throwIfEnded();
            return CheckItem.failed(
                    CheckRules.SCALE_SPAN,
                    failure.getMessage(),
                    "Do what it says, and check the bay again.");
        }
    }

    private void contacts() throws BayWatch.Ended, IOException {
        for (BayContact contact : BY_HAND) {
            put(contact(contact));
        }
    }

    private CheckItem contact(BayContact contact) throws BayWatch.Ended {
        if (isUnchosen(PortKind.CONTACTS)) {
            return CheckItem.notFitted(contact.key(), UNCHOSEN);
        }
        if (isAbsent(PortKind.CONTACTS)) {
            return CheckItem.notDone(contact.key(), absent(PortKind.CONTACTS));
        }
        if (watch.isActive(contact)) {
            return CheckRules.activeAtRest(contact);
        }
        Optional<Boolean> atRest = watch.contact(contact);
        if (atRest.isPresent() && handless.isPresent()) {
            return CheckItem.notDone(contact.key(), "it stands as it should; " + handless.get());
        }
        boolean went = atRest.isPresent() && handled(contact, true);
        boolean cameBack = went && handled(contact, false);
        return CheckRules.contact(
                contact, new CheckRules.Handled(atRest, went, cameBack), HAND_NANOS / 1e9);
    }

    private boolean handled(BayContact contact, boolean active) throws BayWatch.Ended {
        tell(contact.key() + (active ? ", active" : ", back"));
        ports.operator().ask(new CheckTask.Handle(contact, active));
        return watch.until(() -> watch.isActive(contact) == active, HAND_NANOS);
    }

    private CheckItem diverterAtRest() {
        if (setup.diverter().isEmpty()) {
            return CheckItem.notFitted(CheckRules.DIVERTER_AT_REST, "no diverter is described");
        }
        return isAbsent(PortKind.CONTACTS)
                ? CheckItem.notDone(CheckRules.DIVERTER_AT_REST, absent(PortKind.CONTACTS))
                : CheckRules.stands(setup.diverter().get(), switches());
    }

    private void diverter() throws BayWatch.Ended, IOException {
        put(diverterAtRest());
        for (Way way : List.of(Way.TANK, Way.BYPASS)) {
            String name = CheckRules.moveName(way);
            Optional<String> barred = barred(PortKind.OUTPUTS);
            if (setup.diverter().isEmpty()) {
                put(CheckItem.notFitted(name, "no diverter is described"));
            } else if (isAbsent(PortKind.CONTACTS)) {
                put(CheckItem.notDone(name, absent(PortKind.CONTACTS)));
            } else if (barred.isPresent()) {
                put(CheckItem.notDone(name, barred.get()));
            } else {
                tell(name);
                put(moved(way, setup.diverter().get()));
            }
        }
    }

    private CheckItem moved(Way way, RunSetup.Diverter diverter) throws BayWatch.Ended {
        long begun = ports.time().monotonicNanos();
        try {
            ports.outputs().perform(new BayCommand.Divert(way));
        } catch (PortException failure) {
            return failed(CheckRules.moveName(way), failure);
        }
        watch.until(() -> alarm().isPresent() || all(way, switches()), diverter.travelNanosMax());
        if (alarm().isPresent()) {
            ports.makeSafe();
            return CheckItem.notDone(CheckRules.moveName(way), alarm().get() + " while it moved");
        }
        return CheckRules.move(way, diverter, switches(), watch.contactNanos() - begun);
    }

    private static boolean all(Way way, Map<BayContact, Boolean> told) {
        return !told.isEmpty() && CheckRules.wrong(way, told).isEmpty();
    }

    private Map<BayContact, Boolean> switches() {
        Map<BayContact, Boolean> told = new EnumMap<>(BayContact.class);
        OF_DIVERTER.forEach(
                contact -> watch.contact(contact).ifPresent(active -> told.put(contact, active)));
        return told;
    }

    private void drain() throws BayWatch.Ended, IOException {
        Optional<String> barred = barred(PortKind.OUTPUTS);
        if (isUnchosen(PortKind.OUTPUTS)) {
            put(CheckItem.notFitted(DRAIN, UNCHOSEN));
        } else if (barred.isPresent()) {
            put(CheckItem.notDone(DRAIN, barred.get()));
        } else {
            tell(DRAIN);
            put(drained());
        }
    }

    /** No switch tells where the drain stands: a person must see it. */
    private CheckItem drained() throws BayWatch.Ended {
        watch.begin();
        ports.operator().ask(new CheckTask.WatchDrain());
        try {
            ports.outputs().perform(new BayCommand.Drain(true));
            watch.until(() -> alarm().isPresent(), DRAIN_NANOS);
            ports.outputs().perform(new BayCommand.Drain(false));
        } catch (PortException failure) {
            return failed(DRAIN, failure);
        }
        if (alarm().isPresent()) {
            return CheckItem.notDone(DRAIN, alarm().get() + " while it was open");
        }
        return watch.until(watch::seenMoving, HAND_NANOS)
                ? CheckItem.passed(DRAIN, "somebody saw it open and shut; no switch tells of it")
                : CheckItem.failed(
                        DRAIN,
                        "nobody said within " + HAND_NANOS / 1_000_000_000 + " s that it moved",
                        "Check its valve or pump, its air or current, and the output.");
    }

    private void loops() throws BayWatch.Ended, IOException {
        for (PulseLine line : PulseLine.values()) {
            put(loop(line));
        }
    }

    private CheckItem loop(PulseLine line) throws BayWatch.Ended {
        String name = CheckRules.loopName(line);
        if (line == PulseLine.FEEDER && lines().contains(line)) {
            return CheckItem.notDone(
                    name, "the settings do not say whether its pulses are the truck's own");
        }
        if (line != PulseLine.SPEED || !lines().contains(line)) {
            return CheckItem.notFitted(name, "no output of the bay comes back on it");
        }
        if (isAbsent(PortKind.PULSES)) {
            return CheckItem.notDone(name, absent(PortKind.PULSES));
        }
        Optional<String> barred = barred(PortKind.PULSE_OUTPUT);
        if (barred.isPresent()) {
            return CheckItem.notDone(name, barred.get());
        }
        tell(name);
        return looped(line);
    }

    /** Twice what the speed asked for needs. */
    private CheckItem looped(PulseLine line) throws BayWatch.Ended {
        double hertz =
                2
                        * setup.asked().pulsesPerMile().orElseThrow()
                        * setup.asked().speed().milesPerHour()
                        / 3600;
        try {
            ports.pulses().perform(new BayCommand.GroundSpeed(hertz));
            watch.until(() -> alarm().isPresent() || !watch.rising(), RISE_NANOS_MAX);
            watch.until(() -> alarm().isPresent(), LOOP_SETTLE_NANOS);
            watch.begin();
            watch.until(() -> alarm().isPresent(), LOOP_NANOS);
            EdgeSpan running = watch.edges(line);
            ports.pulses().perform(new BayCommand.GroundSpeed(0));
            if (alarm().isPresent()) {
                return CheckItem.notDone(
                        CheckRules.loopName(line), alarm().get() + " while it was sent");
            }
            watch.pass(LOOP_STOP_NANOS);
            watch.begin();
            watch.pass(LOOP_SETTLE_NANOS);
            return CheckRules.loop(line, hertz, running, watch.edges(line));
        } catch (PortException failure) {
            return failed(CheckRules.loopName(line), failure);
        }
    }

    /** What was not reached is named as well. */
    private void notReached() {
        List<String> names = new ArrayList<>();
        for (PulseLine line : PulseLine.values()) {
            names.add(CheckRules.quietName(line));
        }
        names.add(CheckRules.SCALE_AT_REST);
        names.add(CheckRules.CONTROLLER);
        names.add(CheckRules.GAUGE);
        for (TemperaturePlace place : TemperaturePlace.values()) {
            names.add(CheckRules.thermometerName(place));
        }
        names.add(CheckRules.SCALE_SPAN);
        BY_HAND.forEach(contact -> names.add(contact.key()));
        names.add(CheckRules.DIVERTER_AT_REST);
        names.add(CheckRules.moveName(Way.TANK));
        names.add(CheckRules.moveName(Way.BYPASS));
        names.add(DRAIN);
        for (PulseLine line : PulseLine.values()) {
            names.add(CheckRules.loopName(line));
        }
        for (String name : names) {
            if (!items.containsKey(name)) {
                putLast(CheckItem.notDone(name, "the checkup was ended before it"));
            }
        }
    }
}
