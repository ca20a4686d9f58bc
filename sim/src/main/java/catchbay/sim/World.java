package catchbay.sim;

import catchbay.metrology.Buoyancy;
import catchbay.port.PortException;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Divert;
import catchbay.run.BayCommand.Drain;
import catchbay.run.BayCommand.Feeder;
import catchbay.run.BayCommand.GroundSpeed;
import catchbay.run.BayCommand.Output;
import catchbay.run.BayCommand.Supply;
import catchbay.run.BayCommand.Way;
import catchbay.run.BayContact;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.Reported;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;
import catchbay.signal.PulseLine;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.random.RandomGenerator;

/**
 * A truck at a calibration bay, with a known truth. It has no clock: {@link #advance} plays what
 * happens up to a moment, in order of time, so that where the moments lie changes nothing. Flow
 * changes along straight lines over steps of {@link #STEP_NANOS}; pulses are placed inside a step.
 * The liquid does not give way: what passes one meter passes the other.
 */
public final class World {

    static final long STEP_NANOS = 5_000_000;
    static final double STEP_SECONDS = STEP_NANOS / 1e9;

    /** Bubbles spread a meter's pulses by so much of their spacing (illustrative). */
    private static final double BUBBLE_SHIFT_RATIO = 0.3;

    private final SimOptions options;
    private final FaultPlay faults = new FaultPlay(this);
    private final EventQueue events = new EventQueue();
    private final Truth truth = new Truth();
    private final TruckSystem truck;
    private final BayPerson person;
    private final CatchTank tank;
    private final Flap flap;
    private final Optional<RunSetup.Diverter> diverter;
    private final Optional<LoadCell> scale;
    private final Streams streams;
    private final SteadyTrain speed;
    private final double metresPerSpeedPulse;
    private final PulseTrain conveyor;
    private final double conveyorPulsesPerKilogram;
    private final Door[] doors = new Door[PulseLine.values().length];
    private final boolean[] contacts = new boolean[BayContact.values().length];
    private final Inbox contactInputs = new Inbox("contacts");
    private final Inbox scaleInputs = new Inbox("scale");
    private final Inbox controllerInputs = new Inbox("controller");
    private final Inbox temperatureInputs = new Inbox("temperature");
    private final Inbox operatorInputs = new Inbox("operator");
    private final RandomGenerator bubbles;
    private final RandomGenerator noise;
    private final double askedLitres;
    private final boolean sendsTotal;
    private final double triggerPosition;
    private final double inAirKilogramsPerLitre;
    private final double litresAtBay;
    private final StandInThermometers thermometers;
    private final long framesEvery;
    private final long totalsEvery;

    private long nowNanos;
    private long stepNanos;
    private long accountedNanos;
    private long steps;
    private double deliveredLitres;
    private double intoTankLitres;
    private double bypassedLitres;
    private double liquidShare = 1;
    private double airShare;
    private double referenceRatio = 1;

    private Optional<ReferenceMeter> reference;
    private Way way = Way.BYPASS;
    private long diversions;
    private long motions;
    private long questions;
    private boolean stopped;
    private boolean floatForced;
    private boolean catchBegun;
    private double intoTankBefore;
    private List<Fault> awaited = List.of();
    private long strikes;
    private boolean manualForgotten;
    private boolean supplied;
    private boolean controllerSilent;
    private boolean framesTwice;
    private boolean powerCut;
    private boolean diskFull;
    private long programStalledUntilNanos = Long.MIN_VALUE;
    private double ghostShare;
    private final double[] noiseHertz = new double[PulseLine.values().length];
    private double densityRatio = 1;
    private double feederHertz;
    private Mass saltAtStart = new Mass(0);

    /**
     * A bay at rest: nothing flows, the diverter at the bypass.
     *
     * @param startNanos the stamp at which the world begins
     */
    public World(RunSetup setup, SimOptions options, long startNanos) {
        this.options = options;
        this.streams = new Streams(options.seed());
        SimOptions.Bay bay = options.bay();
        nowNanos = startNanos;
        accountedNanos = startNanos;
        stepNanos = startNanos;
        diverter = setup.diverter();
        bubbles = streams.of(Streams.Subsystem.AIR);
        noise = streams.of(Streams.Subsystem.LINE_NOISE);
        hangDoors(setup);
        truck =
                new TruckSystem(
                        setup, options, streams, door(PulseLine.TRUCK), startNanos, STEP_SECONDS);
        person =
                new BayPerson(
                        options.person(),
                        truck,
                        setup.reported().step().litres(),
                        streams.of(Streams.Subsystem.PERSON));
        reference = meter(setup, bay);
        askedLitres = TruckSystem.flowAsked(setup.asked()) * setup.plan().catchNanos() / 1e9;
        scale =
                setup.scale()
                        .map(cell ->
                                new LoadCell(
                                        cell,
                                        options.scale(),
                                        streams.of(Streams.Subsystem.SCALE),
                                        STEP_SECONDS));
        tank = new CatchTank(STEP_SECONDS, bay.chuteSeconds(), bay.drainLitresPerSecond());
        flap = new Flap(bay.diverterTravelSeconds() * 1e9, diverter.isPresent() ? 0 : 1);
        triggerPosition = 0.5 + bay.diverterAsymmetrySeconds() / (2 * bay.diverterTravelSeconds());
        speed = new SteadyTrain(door(PulseLine.SPEED), startNanos);
        metresPerSpeedPulse = TruckSystem.metresPerSpeedPulse(setup.asked());
        conveyor =
                new PulseTrain(
                        door(PulseLine.FEEDER), null, streams.of(Streams.Subsystem.CONVEYOR), 0);
        conveyorPulsesPerKilogram = conveyorPulsesPerKilogram(setup.asked().application());
        litresAtBay = 1 / (1 + expansionPerKelvin(setup) * options.warmth().truckOverKelvin());
        thermometers =
                new StandInThermometers(
                        setup, options.warmth(), streams.of(Streams.Subsystem.THERMOMETERS));
        inAirKilogramsPerLitre =
                litresAtBay * inAirKilogramsPerLitre(setup.liquid(), bay.densityErrorRatio());
        framesEvery = Math.max(1, Math.round(options.scale().periodSeconds() / STEP_SECONDS));
        totalsEvery = Math.max(1, Math.round(options.truck().lineSeconds() / STEP_SECONDS));
        sendsTotal = setup.reported() instanceof Reported.RunningLine;
        contacts[BayContact.DIVERTER_AT_BYPASS.ordinal()] = true;
        reportContacts();
        strike(options.faults());
        begin();
    }

    /**
     * Another catch begins in this world, and what goes wrong in it; what went wrong before is
     * over, and what nobody has read is gone, as for a program that has just been started.
     */
    void nextCatch(List<Fault> wrong) {
        for (Inbox inbox :
                List.of(contactInputs, scaleInputs, controllerInputs, temperatureInputs)) {
            inbox.clear();
        }
        operatorInputs.clear();
        questions++;
        reopenDoors();
        reportContacts();
        strike(wrong);
    }

    /**
     * The liquid now runs through another of the bay's reference meters, and somebody asks for the
     * lines anew.
     *
     * @param setup with that meter, or none
     * @param bay the truth behind it
     */
    void fit(RunSetup setup, SimOptions.Bay bay) {
        doors[PulseLine.REFERENCE.ordinal()] = null;
        doors[PulseLine.REFERENCE_SECOND.ordinal()] = null;
        hangReference(setup);
        reference = meter(setup, bay);
        reopenDoors();
    }

    private Optional<ReferenceMeter> meter(RunSetup setup, SimOptions.Bay bay) {
        return setup.reference()
                .map(meter ->
                        new ReferenceMeter(
                                meter.curve(),
                                bay,
                                new PulseTrain(
                                        door(PulseLine.REFERENCE),
                                        door(PulseLine.REFERENCE_SECOND),
                                        streams.of(Streams.Subsystem.REFERENCE_METER),
                                        bay.referenceShiftRatio()),
                                TruckSystem.flowAsked(setup.asked())));
    }

    private void reopenDoors() {
        for (Door door : doors) {
            if (door != null) {
                door.reopen();
            }
        }
    }

    /** The person at the truck sets this speed, where no ground speed is played to it. */
    void set(Speed speed) {
        truck.set(speed);
    }

    /** All that goes wrong is over, and what has not begun yet will not come. */
    public void cure() {
        strikes++;
        awaited = List.of();
        faults.cure();
    }

    private void strike(List<Fault> wrong) {
        strikes++;
        catchBegun = false;
        intoTankBefore = intoTankLitres;
        awaited = wrong.stream().filter(f -> f.since() == Fault.Since.CATCH).toList();
        wrong.stream().filter(f -> f.since() == Fault.Since.RUN).forEach(this::schedule);
    }

    private void hangReference(RunSetup setup) {
        if (setup.reference().isPresent()) {
            hang(PulseLine.REFERENCE);
            if (setup.reference().get().twoChannels()) {
                hang(PulseLine.REFERENCE_SECOND);
            }
        }
    }

    private void hangDoors(RunSetup setup) {
        hangReference(setup);
        if (setup.reported() instanceof Reported.MeterPulses) {
            hang(PulseLine.TRUCK);
        }
        if (setup.asked().pulsesPerMile().isPresent()) {
            hang(PulseLine.SPEED);
        }
        if (setup.asked().application() instanceof Application.PreWet(_, _, _, var perPulse)
                && perPulse.isPresent()) {
            hang(PulseLine.FEEDER);
        }
    }

    private static double conveyorPulsesPerKilogram(Application application) {
        return switch (application) {
            case Application.Direct _ -> 0;
            case Application.PreWet(_, _, _, var perPulse) ->
                    perPulse.map(salt -> 1 / salt.kilograms()).orElse(0.0);
        };
    }

    private void hang(PulseLine line) {
        doors[line.ordinal()] = new Door(line);
    }

    /** The door of a line; null when the bay has no such line. */
    Door door(PulseLine line) {
        return doors[line.ordinal()];
    }

    /**
     * What weights that balance a litre of the liquid weigh: the inverse of {@link
     * Buoyancy#trueMass}.
     */
    private static double inAirKilogramsPerLitre(RunSetup.Liquid liquid, double densityErrorRatio) {
        Density density =
                new Density(liquid.density().kilogramsPerCubicMetre() * (1 + densityErrorRatio));
        double perReading = Buoyancy.trueMass(new Mass(1), density, liquid.air()).kilograms();
        return density.kilogramsPerCubicMetre() / 1000 / perReading;
    }

    /** As the setup knows it; where it knows none, that of a common brine (illustrative). */
    static double expansionPerKelvin(RunSetup setup) {
        return setup.doubts()
                .temperatures()
                .expansionPerKelvin()
                .or(() ->
                        setup.liquid()
                                .basis()
                                .flatMap(basis ->
                                        basis.slopePerCelsius()
                                                .map(slope ->
                                                        -slope
                                                                / basis.density()
                                                                        .kilogramsPerCubicMetre())))
                .orElse(EXPANSION_PER_KELVIN);
    }

    private static final double EXPANSION_PER_KELVIN = 0.000_45;

    /** Plays what happens up to a moment, no earlier than now. */
    public void advance(long toNanos) {
        if (toNanos < nowNanos) {
            throw new IllegalArgumentException(
                    "a world at " + nowNanos + " ns cannot go back to " + toNanos + " ns");
        }
        if (toNanos == nowNanos && events.nextNanos() > nowNanos) {
            return;
        }
        while (true) {
            long event = events.nextNanos();
            long step = stepNanos + STEP_NANOS;
            if (event <= step && event <= toNanos) {
                nowNanos = event;
                events.playNext();
            } else if (step <= toNanos) {
                nowNanos = step;
                end();
                begin();
            } else {
                break;
            }
        }
        nowNanos = toNanos;
        speed.run(nowNanos);
        for (Door door : doors) {
            if (door != null) {
                door.release(nowNanos);
            }
        }
    }

    /** The first half of a step: what flows during it, and the pulses that it makes. */
    private void begin() {
        if (steps * STEP_NANOS % TruckSystem.TICK_NANOS == 0) {
            truck.tick(nowNanos);
            feelFloat();
            sample(truck.countedLitres());
        }
        truck.step(nowNanos, STEP_SECONDS);
        reference.ifPresent(meter ->
                meter.turn(nowNanos, truck.flowNow(), referenceRatio * litresAtBay, ghostShare));
        double conveyed = truck.saltKilogramsPerSecond() * conveyorPulsesPerKilogram;
        conveyor.turn(nowNanos, STEP_SECONDS, conveyed, conveyed);
        disturb();
        liquidShare = airShare == 0 ? 1 : 1 - airShare * 2 * bubbles.nextDouble();
        stepNanos = nowNanos;
        steps++;
    }

    /** Edges that no pulse made, at moments of their own. */
    private void disturb() {
        for (PulseLine line : PulseLine.values()) {
            double hertz = noiseHertz[line.ordinal()];
            if (hertz > 0 && noise.nextDouble() < hertz * STEP_SECONDS) {
                door(line).disturb(nowNanos + noise.nextLong(STEP_NANOS));
            }
        }
    }

    /**
     * The second half of a step: where its liquid went, and what the scale and the controller's
     * line make of it.
     */
    private void end() {
        account();
        tank.step(STEP_SECONDS);
        if (scale.isPresent()) {
            LoadCell cell = scale.get();
            cell.step(tank.tankLitres() * inAirKilogramsPerLitre * densityRatio);
            if (steps % framesEvery == 0) {
                cell.frame(nowNanos, inflow())
                        .ifPresent(frame -> {
                            scaleInputs.put(frame);
                            if (framesTwice) {
                                scaleInputs.put(frame);
                            }
                        });
            }
        }
        if (steps * STEP_NANOS % StandInThermometers.PERIOD_NANOS == 0) {
            thermometers.read(nowNanos, temperatureInputs);
        }
        if (sendsTotal && !controllerSilent && steps % totalsEvery == 0) {
            controllerInputs.put(new RunInput.ControllerTotal(nowNanos, truck.shownTotal()));
        }
        if (!catchBegun && intoTankLitres > intoTankBefore) {
            catchBegun = true;
            awaited.forEach(this::schedule);
        }
    }

    private double inflow() {
        return truck.flowNow() * Flap.share(flap.position(nowNanos));
    }

    /** Adds up the liquid since it was last added up; the step under way goes on. */
    private void account() {
        double from = flowAt(accountedNanos);
        double to = flowAt(nowNanos);
        double seconds = (nowNanos - accountedNanos) / 1e9;
        deliveredLitres += (from + to) / 2 * seconds * liquidShare;
        double tankwards = flap.litres(Way.TANK, accountedNanos, from, nowNanos, to) * liquidShare;
        intoTankLitres += tankwards;
        bypassedLitres += flap.litres(Way.BYPASS, accountedNanos, from, nowNanos, to) * liquidShare;
        tank.arrive(tankwards);
        accountedNanos = nowNanos;
    }

    private double flowAt(long nanos) {
        double part = (double) (nanos - stepNanos) / STEP_NANOS;
        return truck.flowBefore() + part * (truck.flowNow() - truck.flowBefore());
    }

    private void feelFloat() {
        contact(
                BayContact.HIGH_LEVEL,
                floatForced || tank.tankLitres() >= options.bay().floatLitres());
    }

    /**
     * Does now what an output is told to do. While the emergency stop is pressed its relay keeps
     * all of them safe.
     */
    public void perform(Output command) {
        if (stopped) {
            return;
        }
        switch (command) {
            case Divert(var to) -> divert(to);
            case Drain(var open) -> tank.drain(open);
            case Supply(var on) -> {
                if (on) {
                    readSalt();
                }
                supplied = on;
                truck.supply(on);
            }
            case GroundSpeed(var hertz) -> {
                if (hertz > 0) {
                    readSalt();
                }
                speed.rate(nowNanos, hertz);
                truck.speedPulses(nowNanos, hertz);
            }
            // The conveyor's pulses come from the truck: what the bay would play is only kept as a
            // level.
            case Feeder(var hertz) -> feederHertz = hertz;
        }
    }

    /** All outputs to their safe levels. */
    public void makeSafe() {
        perform(new GroundSpeed(0));
        perform(new Feeder(0));
        perform(new Divert(Way.BYPASS));
        perform(new Drain(false));
        perform(new Supply(false));
    }

    /** Whether every output is told to be at its safe level. */
    public boolean outputsSafe() {
        return way == Way.BYPASS
                && !tank.draining()
                && !supplied
                && speed.hertz() == 0
                && feederHertz == 0;
    }

    /**
     * The person reads the controller's salt at rest, before the flow is started: as long as a
     * purge still runs out, it goes on counting.
     */
    private void readSalt() {
        saltAtStart = truck.salt(nowNanos);
    }

    private void divert(Way to) {
        if (way == to || diverter.isEmpty()) {
            return;
        }
        way = to;
        diversions++;
        long diversion = diversions;
        events.put(
                nowNanos + (long) (options.bay().diverterDelaySeconds() * 1e9),
                () -> {
                    if (diversion == diversions) {
                        account();
                        flap.move(nowNanos, to);
                        watchFlap();
                    }
                });
    }

    /** Puts what the flap's present motion passes into the time to come. */
    private void watchFlap() {
        motions++;
        boolean towardsTank = flap.towardsTank();
        if (diverter.isPresent() && diverter.get().feedback() == RunSetup.Feedback.TRIGGER) {
            pass(triggerPosition, () -> contact(BayContact.DIVERTER_TRIGGER, towardsTank));
        }
        pass(1 - Flap.END_SHARE, () -> contact(BayContact.DIVERTER_AT_TANK, towardsTank));
        pass(Flap.END_SHARE, () -> contact(BayContact.DIVERTER_AT_BYPASS, !towardsTank));
        pass(
                0.5,
                () -> {
                    // A window may open or close here: passing keeps the truth.
                });
    }

    private void pass(double position, Runnable happening) {
        double at = flap.passesNanos(position);
        long motion = motions;
        if (!Double.isNaN(at)) {
            events.put(
                    (long) Math.rint(at),
                    () -> {
                        if (motion == motions) {
                            account();
                            sample(countedNow());
                            happening.run();
                        }
                    });
        }
    }

    private void sample(double reportedLitres) {
        truth.sample(
                nowNanos,
                deliveredLitres,
                intoTankLitres,
                reportedLitres,
                truck.salt(nowNanos).kilograms(),
                speed.phase(nowNanos) * metresPerSpeedPulse);
    }

    /** The meter has been turned to the step's end already: what it counted is told back to now. */
    private double countedNow() {
        double left = (stepNanos + STEP_NANOS - nowNanos) / (double) STEP_NANOS;
        return truck.countedLitres() - left * truck.countedInStepLitres();
    }

    private void reportContacts() {
        List<BayContact> always =
                List.of(
                        BayContact.EMERGENCY_STOP,
                        BayContact.HIGH_LEVEL,
                        BayContact.SPILL,
                        BayContact.SUPPLY_LOST);
        for (BayContact contact : BayContact.values()) {
            boolean fitted =
                    always.contains(contact)
                            || contact != BayContact.ATTENDANT
                                    && diverter.isPresent()
                                    && (contact != BayContact.DIVERTER_TRIGGER
                                            || diverter.get().feedback()
                                                    == RunSetup.Feedback.TRIGGER);
            if (fitted) {
                contactInputs.put(
                        new RunInput.Contact(nowNanos, contact, contacts[contact.ordinal()]));
            }
        }
    }

    void contact(BayContact contact, boolean active) {
        if (contacts[contact.ordinal()] != active) {
            contacts[contact.ordinal()] = active;
            contactInputs.put(new RunInput.Contact(nowNanos, contact, active));
        }
    }

    /** Puts a question to the person; it replaces one that is still open. */
    public void ask(Question question) {
        if (question == Question.PRESENCE) {
            events.put(nowNanos + person.answerNanos(), this::showPresence);
            return;
        }
        whenAnswered(() -> {
            if (question == Question.START_FLOW) {
                readSalt();
            }
            Mass salt = truck.salt(nowNanos).minus(saltAtStart);
            return person.answer(nowNanos, question, salt);
        });
    }

    /** Whoever has another question in hand shows to be there all the same. */
    private void showPresence() {
        if (!person.absent()) {
            operatorInputs.put(new RunInput.Done(nowNanos, Question.PRESENCE));
        }
    }

    /** Asks the person to do something to the scale; as {@link #ask(Question)}. */
    public void ask(ScaleTask task) {
        whenAnswered(() -> {
            scale(cell -> cell.take(task));
            return new RunInput.Done(nowNanos, Question.LOAD_SCALE);
        });
    }

    /** Asks the person to do something between catches; as {@link #ask(Question)}. */
    public void ask(SweepTask task) {
        whenAnswered(() -> {
            switch (task) {
                case SweepTask.EnterConstant entered -> truck.enter(entered.constant());
                case SweepTask.EmptyTank _ -> tank.pour(-tank.tankLitres());
                case SweepTask.FillTank filled -> tank.pour(filled.missing().litres());
                case SweepTask.Refill _,
                        SweepTask.SetPoint _,
                        SweepTask.SetOutlet _,
                        SweepTask.SetSupply _ -> {
                    // The stand-in truck never runs dry, is set as its catch asks, and gives the
                    // same through whatever is open.
                }
            }
            return new RunInput.Done(nowNanos, Question.SWEEP_STEP);
        });
    }

    /**
     * Asks the person to set a flow; as {@link #ask(Question)}. For the low end the controller is
     * put in its manual mode first, unless that is forgotten.
     */
    public void ask(HuntTask task) {
        whenAnswered(() -> {
            switch (task) {
                case HuntTask.SetValve valve -> {
                    if (manualForgotten) {
                        truck.regulates(valve.flow());
                        truck.operatorOpens(true);
                    } else {
                        truck.byHand(valve.flow());
                    }
                }
                case HuntTask.SetSpeed set -> {
                    truck.set(set.speed());
                    truck.operatorOpens(true);
                }
            }
            return new RunInput.Done(nowNanos, Question.HUNT_STEP);
        });
    }

    /** The person leaves the controller in its automatic mode, whatever is to be set by hand. */
    void forgetManual() {
        manualForgotten = true;
    }

    /** The person answers after a while, unless something else was asked meanwhile. */
    private void whenAnswered(Supplier<RunInput> answer) {
        questions++;
        long number = questions;
        events.put(
                nowNanos + person.answerNanos(),
                () -> {
                    if (number == questions && !person.absent()) {
                        operatorInputs.put(answer.get());
                    }
                });
    }

    /** Asks the person for something in a checkup; as {@link #ask(Question)}. */
    public void ask(CheckTask task) {
        switch (task) {
            case CheckTask.Cautions _ -> ask(Question.CHECKLIST);
            case CheckTask.WatchDrain _ -> ask(Question.SEEN_MOVING);
            case CheckTask.Handle(BayContact contact, boolean active) -> {
                questions++;
                long number = questions;
                events.put(
                        nowNanos + person.answerNanos(),
                        () -> {
                            if (number == questions) {
                                handle(contact, active);
                            }
                        });
            }
        }
    }

    private void handle(BayContact contact, boolean active) {
        switch (contact) {
            case EMERGENCY_STOP -> emergencyStop(active);
            case HIGH_LEVEL -> forceFloat(active);
            case SPILL -> contact(BayContact.SPILL, active);
            case SUPPLY_LOST -> contact(BayContact.SUPPLY_LOST, active);
            case ATTENDANT, DIVERTER_TRIGGER, DIVERTER_AT_TANK, DIVERTER_AT_BYPASS ->
                    throw new IllegalArgumentException(
                            "a hand moves no " + contact.key() + " of the stand-in bay");
        }
    }

    private void schedule(Fault fault) {
        long from = nowNanos + fault.afterNanos();
        whileIt(from, () -> faults.begin(fault));
        if (fault.forNanos() > 0) {
            whileIt(from + fault.forNanos(), () -> faults.end(fault));
        }
    }

    /** What belongs to the faults under way comes only as long as they are. */
    private void whileIt(long atNanos, Runnable happening) {
        long strike = strikes;
        events.put(
                atNanos,
                () -> {
                    if (strike == strikes) {
                        happening.run();
                    }
                });
    }

    /** What has gone wrong so far, in order of time, whether it is over or not. */
    public List<Struck> struck() {
        return faults.struck();
    }

    /**
     * A fault that truly began.
     *
     * @param fault which
     * @param fromNanos when
     */
    public record Struck(Fault fault, long fromNanos) {}

    void stallReader(long nanos) {
        for (Door door : doors) {
            if (door != null) {
                door.stallUntil(nowNanos + nanos);
            }
        }
    }

    void air(double share) {
        airShare = share;
        double extra = share == 0 ? 0 : BUBBLE_SHIFT_RATIO;
        truck.meterShiftRatio(options.truck().shiftRatio() + extra);
        reference.ifPresent(meter -> meter.uneven(extra));
    }

    void jamDiverter(double position) {
        account();
        flap.jam(nowNanos, position);
        watchFlap();
    }

    /** Puts right what does not end by itself. */
    void heal() {
        for (Door door : doors) {
            if (door != null) {
                door.heal();
            }
        }
        if (person.absent()) {
            truck.operatorOpens(false);
        }
        person.composed();
        programStalledUntilNanos = Long.MIN_VALUE;
        if (diverter.isPresent()) {
            account();
            flap.free(nowNanos, way);
            watchFlap();
        }
    }

    /** What is asked for over the planned catch, L. */
    double askedLitres() {
        return askedLitres;
    }

    void doubleScale(boolean twice) {
        framesTwice = twice;
    }

    /** The reference meter counts so much of the asked flow more, whether anything flows or not. */
    void ghost(double share) {
        ghostShare = share;
    }

    void noise(PulseLine line, double hertz) {
        noiseHertz[line.ordinal()] = door(line) == null ? 0 : hertz;
    }

    void densityRatio(double ratio) {
        densityRatio = ratio;
    }

    void unplugScale(boolean out) {
        scaleInputs.unplug(out);
    }

    void unplugController(boolean out) {
        controllerInputs.unplug(out);
    }

    void silenceController(boolean silent) {
        controllerSilent = silent;
    }

    /**
     * Whoever stands at a truck whose flow is set by hand shuts it when the bay goes dark, whatever
     * was asked before.
     */
    void cutPower(boolean cut) {
        powerCut = cut;
        if (cut) {
            questions++;
            events.put(nowNanos + person.answerNanos(), () -> truck.operatorOpens(false));
        }
    }

    /** Whether the computer has no power; who runs the program must end it there. */
    public boolean powerCut() {
        return powerCut;
    }

    void fillDisk(boolean full) {
        diskFull = full;
    }

    /** Whether nothing more can be written. */
    public boolean diskFull() {
        return diskFull;
    }

    void stallProgram(long nanos) {
        programStalledUntilNanos = nowNanos + nanos;
    }

    /** Until when the whole program stands still. */
    long programStalledUntilNanos() {
        return programStalledUntilNanos;
    }

    void slowDiverter(double times) {
        flap.slow(options.bay().diverterTravelSeconds() * 1e9 * times);
    }

    void emergencyStop(boolean pressed) {
        if (pressed) {
            makeSafe();
        }
        stopped = pressed;
        contact(BayContact.EMERGENCY_STOP, pressed);
    }

    void forceFloat(boolean up) {
        floatForced = up;
        feelFloat();
    }

    void referenceRatio(double ratio) {
        referenceRatio = ratio;
    }

    StandInThermometers thermometers() {
        return thermometers;
    }

    void scale(Consumer<LoadCell> change) {
        scale.ifPresent(change);
    }

    TruckSystem truck() {
        return truck;
    }

    BayPerson person() {
        return person;
    }

    /** The moment up to which the world was played, ns. */
    public long nowNanos() {
        return nowNanos;
    }

    void drainPulses(Consumer<RunInput> into) {
        for (Door door : doors) {
            if (door != null) {
                door.drain(nowNanos, into);
            }
        }
    }

    void drainContacts(Consumer<RunInput> into) throws PortException {
        contactInputs.drain(into);
    }

    void drainScale(Consumer<RunInput> into) throws PortException {
        scaleInputs.drain(into);
    }

    void drainController(Consumer<RunInput> into) throws PortException {
        controllerInputs.drain(into);
    }

    void drainTemperature(Consumer<RunInput> into) throws PortException {
        temperatureInputs.drain(into);
    }

    void drainOperator(Consumer<RunInput> into) throws PortException {
        operatorInputs.drain(into);
    }

    /** What truly happened so far. */
    public Truth truth() {
        return truth;
    }

    /** Whether liquid leaves the truck at this moment. */
    public boolean flows() {
        return truck.flowNow() > 0;
    }

    /** Whether the catch tank has ever held more than runs over its rim. */
    public boolean overflowed() {
        return tank.fullestLitres() > options.bay().floatLitres() * RIM_OVER_FLOAT;
    }

    /** A tank's rim stands so much above its float (illustrative). */
    private static final double RIM_OVER_FLOAT = 1.15;

    /** What the tank holds when its float comes up. */
    public Volume room() {
        return new Volume(options.bay().floatLitres());
    }

    /** All liquid that left the truck so far. */
    public Volume delivered() {
        return new Volume(deliveredLitres);
    }

    /** All liquid that went into the catch tank so far, drained or not. */
    public Volume intoTank() {
        return new Volume(intoTankLitres);
    }

    /** All liquid that went back to storage past the tank so far. */
    public Volume bypassed() {
        return new Volume(bypassedLitres);
    }

    CatchTank tank() {
        return tank;
    }
}
