package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Pressure;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.run.Outcome.Cause;
import catchbay.run.OutcomeTest.Ending;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.signal.PressureReading;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;

import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** The ends of a run whose interlocks need a guard or a sweep. */
final class GuardEndings {

    private GuardEndings() {}

    /** Pressure to 60 psi, liquid from 0 to 30 °C, a leak of 0.5 kg, 200 MB, 10 minutes. */
    static Guard guard() {
        return new Guard(
                15 * Setups.SECOND,
                5 * Setups.SECOND,
                new Ratio(2),
                10,
                new Mass(0.5),
                Optional.of(Pressure.ofPsi(60)),
                Optional.of(new Temperature(0)),
                Optional.of(new Temperature(30)),
                200_000_000L,
                600 * Setups.SECOND);
    }

    static Setups guarded() {
        Setups setups = new Setups();
        setups.guard = Optional.of(guard());
        return setups;
    }

    /** In a sweep whose attendant shows every minute, with a tank of 100 l. */
    static Setups part(double emptySeconds, double inTankLitres, Optional<Mass> left) {
        Setups setups = guarded();
        setups.drainSeconds = 0;
        setups.part =
                Optional.of(
                        new Part(
                                "sweep",
                                2,
                                "A. Tester",
                                Optional.of("S. Tester"),
                                Optional.of(
                                        new Part.Presence(60 * Setups.SECOND, 40 * Setups.SECOND)),
                                Setups.nanos(emptySeconds),
                                Optional.of(new Volume(100)),
                                new Volume(inTankLitres),
                                left));
        return setups;
    }

    private static Rehearsal catching(Setups setups) {
        return new Rehearsal(setups).until("catching").run(5);
    }

    private static Setups presentAlways() {
        Setups setups = part(0, 0, Optional.empty());
        Part part = setups.part.orElseThrow();
        setups.part =
                Optional.of(
                        new Part(
                                part.sweep(),
                                part.leg(),
                                part.confirmedBy(),
                                part.speedConfirmedBy(),
                                Optional.empty(),
                                part.emptyNanos(),
                                part.room(),
                                part.inTank(),
                                part.left()));
        return setups;
    }

    static Stream<Ending> all() {
        return Stream.of(flow(), tank(), surroundings(), people()).flatMap(s -> s);
    }

    private static Stream<Ending> flow() {
        return Stream.of(
                new Ending(
                        Cause.NO_FLOW,
                        "a valve stays shut",
                        "none came within 15 s",
                        () -> new Rehearsal(guarded()).until("purging").flow(false)),
                new Ending(
                        Cause.NO_FLOW,
                        "a bay with a scale only sees it by the tank",
                        "none came within 15 s",
                        () -> {
                            Setups setups = Setups.scaleOnly();
                            setups.guard = Optional.of(guard());
                            return new Rehearsal(setups).until("catching").flow(false);
                        }),
                new Ending(
                        Cause.FLOW_UNCOMMANDED,
                        "flow goes on when the speed is gone",
                        "flows at 100 % of the asked flow",
                        () -> new Rehearsal(guarded()).until("dripping").flow(true)),
                new Ending(
                        Cause.FLOW_UNCOMMANDED,
                        "flow before anybody has confirmed",
                        "of the asked flow, and nobody has started it",
                        () -> {
                            Rehearsal bay = new Rehearsal(guarded());
                            bay.answers = false;
                            return bay.until("confirming").flow(true);
                        }),
                new Ending(
                        Cause.LEAK,
                        "a valve that does not close",
                        "with everything shut",
                        () -> {
                            Rehearsal bay = new Rehearsal(guarded()).until("dripping");
                            bay.hertz.put(PulseLine.REFERENCE, 4.0);
                            return bay.flow(true);
                        }),
                new Ending(
                        Cause.RUNAWAY,
                        "the valve opens fully",
                        "puts out 3.0 times what is asked",
                        () -> {
                            Rehearsal bay = new Rehearsal(guarded()).until("settling");
                            bay.hertz.merge(PulseLine.REFERENCE, 3.0, (a, b) -> a * b);
                            return bay;
                        }),
                new Ending(
                        Cause.RUNAWAY,
                        "the truck's meter stops counting",
                        "truck's meter gave no pulse for",
                        () -> {
                            Rehearsal bay = catching(guarded());
                            bay.hertz.remove(PulseLine.TRUCK);
                            return bay;
                        }));
    }

    private static Stream<Ending> tank() {
        return Stream.of(
                new Ending(
                        Cause.SCALE_FROZEN,
                        "the weight stands still",
                        "into the tank, and the scale rose by",
                        () -> {
                            Rehearsal bay = catching(guarded());
                            double shown = bay.startKilograms;
                            bay.frames =
                                    _ ->
                                            new ScaleFrame.Weight(
                                                    shown, MassUnit.KILOGRAM, false, true);
                            return bay;
                        }),
                new Ending(
                        Cause.OVERFILL,
                        "the tank takes no more, by its weight",
                        "had room for",
                        () -> {
                            Setups setups = presentAlways();
                            setups.capacityKilograms = 5000;
                            Rehearsal bay = new Rehearsal(setups).until("catching");
                            return bay.spill(101);
                        }),
                new Ending(
                        Cause.OVERFILL,
                        "the tank takes no more, by the reference",
                        "had room for 2.642 US gal",
                        () -> {
                            Setups setups = presentAlways();
                            Part part = setups.part.orElseThrow();
                            setups.scale = false;
                            setups.part =
                                    Optional.of(
                                            new Part(
                                                    part.sweep(),
                                                    part.leg(),
                                                    part.confirmedBy(),
                                                    part.speedConfirmedBy(),
                                                    part.presence(),
                                                    0,
                                                    part.room(),
                                                    new Volume(90),
                                                    Optional.empty()));
                            return new Rehearsal(setups);
                        }),
                new Ending(
                        Cause.LEAK,
                        "the tank is lighter than it was left",
                        "The tank is 2.00 kg lighter",
                        () -> new Rehearsal(part(0, 10, Optional.of(new Mass(22))))),
                new Ending(
                        Cause.TANK_NOT_EMPTIED,
                        "the drain does not open",
                        "grew lighter by 0.0 kg while its drain was open",
                        () -> {
                            Setups setups = part(20, 10, Optional.empty());
                            Rehearsal bay = new Rehearsal(setups);
                            bay.heldLitres = 10;
                            bay.drainOpens = false;
                            return bay;
                        }),
                new Ending(
                        Cause.TANK_NOT_EMPTIED,
                        "nobody sees whether it empties",
                        "sent no weight while the tank was emptied",
                        () -> {
                            Setups setups = part(0.5, 10, Optional.empty());
                            setups.dripSeconds = 0;
                            Rehearsal bay = new Rehearsal(setups);
                            bay.scaleSends = false;
                            return bay;
                        }));
    }

    private static Stream<Ending> surroundings() {
        return Stream.of(
                new Ending(
                        Cause.PRESSURE_HIGH,
                        "a valve shut against the pump",
                        "is 61.0 psi, above its limit of 60.0 psi",
                        () -> {
                            Rehearsal bay = catching(guarded());
                            bay.gauge = () -> new PressureReading.Shown(Pressure.ofPsi(61));
                            return bay;
                        }),
                new Ending(
                        Cause.TEMPERATURE_OUTSIDE,
                        "the liquid has warmed up",
                        "(thermometer reference), warmer than the 30.0 C (86.0 F) allowed",
                        () -> heated(31)),
                new Ending(
                        Cause.TEMPERATURE_OUTSIDE,
                        "the liquid is too cold",
                        "(thermometer reference), colder than the 0.0 C (32.0 F) allowed",
                        () -> heated(-1)),
                new Ending(
                        Cause.DISK_LOW,
                        "the disk fills",
                        "has 199 MB free, less than the 200 MB",
                        () -> {
                            Rehearsal bay = catching(guarded());
                            return bay.give(new RunInput.DiskFree(bay.now(), 199_999_999));
                        }),
                new Ending(
                        Cause.SUPPLY_LOST,
                        "the bay's pump has stopped",
                        "own supply is lost",
                        () -> {
                            Rehearsal bay = catching(new Setups());
                            return bay.give(
                                    new RunInput.Contact(bay.now(), BayContact.SUPPLY_LOST, true));
                        }));
    }

    private static Rehearsal heated(double celsius) {
        Setups setups = guarded();
        setups.doubts =
                Setups.NONE.with(
                        new Doubts.Temperatures(
                                Optional.empty(),
                                Optional.empty(),
                                Optional.empty(),
                                0,
                                Optional.of(0.0),
                                new Doubts.Sensors(
                                        Set.of(TemperaturePlace.REFERENCE),
                                        0.5,
                                        5 * Setups.SECOND)));
        Rehearsal bay = catching(setups);
        bay.celsius.put(TemperaturePlace.REFERENCE, celsius);
        return bay;
    }

    private static Stream<Ending> people() {
        return Stream.of(
                new Ending(
                        Cause.ATTENDANT_ABSENT,
                        "nobody presses Enter",
                        "Nobody has shown to be there for 60 s",
                        () -> {
                            Rehearsal bay = new Rehearsal(part(0, 0, Optional.empty()));
                            bay.answers = false;
                            return bay;
                        }),
                new Ending(
                        Cause.TIME_LIMIT,
                        "a catch without an end",
                        "takes longer than 60 s",
                        () -> {
                            Setups setups = new Setups();
                            setups.guard = Optional.of(guard().within(60 * Setups.SECOND));
                            setups.measureBy = MeasureBy.SCALE;
                            return new Rehearsal(setups);
                        }));
    }
}
