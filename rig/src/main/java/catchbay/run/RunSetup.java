package catchbay.run;

import catchbay.metrology.Certificate;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.ReferenceCurve;
import catchbay.metrology.TruckConstant;
import catchbay.quantity.Density;
import catchbay.quantity.LiquidPerLane;
import catchbay.quantity.LiquidPerSalt;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Ratio;
import catchbay.quantity.SaltPerDistance;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.signal.PulseRule;

import java.time.LocalDate;
import java.util.Optional;

/**
 * Everything known before a run that its result depends on. It stands in the first line of the
 * run's trace, so that the result is a function of the trace alone. Durations are nanoseconds; a
 * part that the bay does not have is empty.
 *
 * @param bay the bay's name
 * @param day the run's calendar day at the bay, against which certificates are judged
 * @param reference the reference meter
 * @param scale the scale under the catch tank
 * @param diverter the diverter; without one the flow must start and stop inside the window
 * @param liquid what flows
 * @param truck the truck under test
 * @param asked what the truck is asked to put down
 * @param reported how the truck's own figure is learned
 * @param plan the course of the catch
 * @param doubts what is known of the bay's errors beyond its certificates
 * @param judgement by what the truck passes or fails
 * @param session who runs it, and to what end
 * @param repeats how often it is repeated, where it is
 * @param guard at what limits the bay stops by itself, beyond those that every catch has
 * @param part its place in a sweep, where it has one
 */
public record RunSetup(
        String bay,
        LocalDate day,
        Optional<Reference> reference,
        Optional<Scale> scale,
        Optional<Diverter> diverter,
        Liquid liquid,
        Truck truck,
        Asked asked,
        Reported reported,
        Plan plan,
        Doubts doubts,
        Judgement judgement,
        Session session,
        Repeats repeats,
        Optional<Guard> guard,
        Optional<Part> part) {

    /** A catch that stands alone, with the limits that every catch has. */
    public RunSetup(
            String bay,
            LocalDate day,
            Optional<Reference> reference,
            Optional<Scale> scale,
            Optional<Diverter> diverter,
            Liquid liquid,
            Truck truck,
            Asked asked,
            Reported reported,
            Plan plan,
            Doubts doubts,
            Judgement judgement,
            Session session,
            Repeats repeats) {
        this(
                bay,
                day,
                reference,
                scale,
                diverter,
                liquid,
                truck,
                asked,
                reported,
                plan,
                doubts,
                judgement,
                session,
                repeats,
                Optional.empty(),
                Optional.empty());
    }

    /** The same setup, as this part of a sweep. */
    public RunSetup as(Part place) {
        return new RunSetup(
                bay,
                day,
                reference,
                scale,
                diverter,
                liquid,
                truck,
                asked,
                reported,
                plan,
                doubts,
                judgement,
                session,
                repeats,
                guard,
                Optional.of(place));
    }

    /** The limits of its interlocks: its own, or what is watched where none are named. */
    public Guard watched() {
        return guard.orElse(Guard.usual(scale.map(Scale::restBand)));
    }

    /** How much of the liquid the scale may carry; empty without one. */
    public Optional<Volume> carried() {
        return scale.map(Scale::capacity).map(liquid.density()::volumeOf);
    }

    /** The same setup, guarded so. */
    public RunSetup with(Guard limits) {
        return new RunSetup(
                bay,
                day,
                reference,
                scale,
                diverter,
                liquid,
                truck,
                asked,
                reported,
                plan,
                doubts,
                judgement,
                session,
                repeats,
                Optional.of(limits),
                part);
    }

    /** The same setup, run by these people to this end. */
    public RunSetup with(Session other) {
        return new RunSetup(
                bay, day, reference, scale, diverter, liquid, truck, asked, reported, plan, doubts,
                judgement, other, repeats, guard, part);
    }

    /** The same setup, its truck set so. */
    public RunSetup with(Truck other) {
        return new RunSetup(
                bay, day, reference, scale, diverter, liquid, other, asked, reported, plan, doubts,
                judgement, session, repeats, guard, part);
    }

    /** The same setup with what is known of its scale. */
    public RunSetup with(Scale known, Doubts.Scale doubtful) {
        return new RunSetup(
                bay,
                day,
                reference,
                Optional.of(known),
                diverter,
                liquid,
                truck,
                asked,
                reported,
                plan,
                doubts.with(doubtful),
                judgement,
                session,
                repeats,
                guard,
                part);
    }

    /** The same setup, for the catch at this place of a series. */
    public RunSetup at(Repeats.Place place) {
        return with(repeats.at(place));
    }

    /** The same setup, repeated so. */
    public RunSetup with(Repeats other) {
        return new RunSetup(
                bay, day, reference, scale, diverter, liquid, truck, asked, reported, plan, doubts,
                judgement, session, other, guard, part);
    }

    /** The same setup, asked for something else, in another course, judged otherwise. */
    public RunSetup with(Asked other, Plan course, Judgement by) {
        return new RunSetup(
                bay, day, reference, scale, diverter, liquid, truck, other, reported, course,
                doubts, by, session, repeats, guard, part);
    }

    /** The same setup with what is known of its diverter's timing. */
    public RunSetup with(Doubts.Diverter known) {
        return with(doubts.with(known));
    }

    /**
     * The same bay, trying itself: whatever a truck would say of it is left out.
     *
     * @param other where the liquid comes from, as a truck
     */
    public RunSetup ofBayItself(Truck other, Asked wanted, Plan course) {
        return new RunSetup(
                bay,
                day,
                reference,
                scale,
                diverter,
                liquid,
                other,
                wanted,
                new Reported.Nothing(),
                course,
                doubts,
                judgement,
                session,
                repeats,
                guard,
                part);
    }

    /** The same setup with other doubts. */
    RunSetup with(Doubts others) {
        return new RunSetup(
                bay, day, reference, scale, diverter, liquid, truck, asked, reported, plan, others,
                judgement, session, repeats, guard, part);
    }

    /**
     * The longest duration of a setup, ns: a day. Sums of them and of stamps stay within 64 bits.
     */
    public static final long DURATION_NANOS_MAX = 86_400_000_000_000L;

    /** The longest that liquid runs off before a catch: an hour, in seconds. */
    public static final int PURGE_SECONDS_MAX = 3600;

    /** The longest that a tank drips before it is weighed: an hour, in seconds. */
    public static final int DRIP_SECONDS_MAX = 3600;

    /** The most slots over which steadiness is judged: a run's state stays small. */
    public static final int SETTLE_SLOTS_MAX = 1000;

    private static void duration(String what, long nanos, long least) {
        if (nanos < least || nanos > DURATION_NANOS_MAX) {
            throw new IllegalArgumentException(
                    what
                            + " must be from "
                            + least
                            + " to "
                            + DURATION_NANOS_MAX
                            + " ns, was "
                            + nanos);
        }
    }

    private static void ratio(String what, double ratio) {
        if (!Double.isFinite(ratio) || ratio < 0) {
            throw new IllegalArgumentException(what + " must be a finite ratio >= 0, was " + ratio);
        }
    }

    private static void aboveZero(String what, double number, String unit) {
        if (!Double.isFinite(number) || number <= 0) {
            throw new IllegalArgumentException(
                    what + " must be finite and > 0 " + unit + ", was " + number);
        }
    }

    /**
     * The reference meter.
     *
     * @param certificate its certificate
     * @param curve its certified constants
     * @param debounceNanos edges closer than this to the last are bounces; 0 = none
     * @param pulsesPerSecondMax the highest rate its line is expected to reach, > 0
     * @param leapRatio see {@link catchbay.signal.PulseRule#leapRatio()}
     * @param evenRatioMax see {@link catchbay.signal.PulseRule#evenRatioMax()}
     * @param twoChannels whether it sends its pulses on a second channel as well, shifted by a part
     *     of a period, against which each of them is held
     */
    public record Reference(
            Certificate certificate,
            ReferenceCurve curve,
            long debounceNanos,
            double pulsesPerSecondMax,
            double leapRatio,
            double evenRatioMax,
            boolean twoChannels) {
        public Reference {
            duration("debounce of the reference", debounceNanos, 0);
            aboveZero("highest rate of the reference's line", pulsesPerSecondMax, "pulses/s");
            new PulseRule(debounceNanos, leapRatio, evenRatioMax, Long.MAX_VALUE, 0);
        }
    }

    /**
     * The scale under the catch tank.
     *
     * @param certificate its certificate
     * @param unit the only unit its frames may carry
     * @param resolution the step of its display, > 0
     * @param capacity the most it may be loaded with
     * @param restBand the widest spread of readings that counts as rest
     * @param restNanos how long it must be at rest to be read
     * @param silentNanosMax how long it may send nothing
     * @param tests what was tried of it where it stands
     */
    public record Scale(
            Certificate certificate,
            MassUnit unit,
            Mass resolution,
            Mass capacity,
            Mass restBand,
            long restNanos,
            long silentNanosMax,
            ScaleTests tests) {

        /** A scale of which nothing was tried. */
        public Scale(
                Certificate certificate,
                MassUnit unit,
                Mass resolution,
                Mass capacity,
                Mass restBand,
                long restNanos,
                long silentNanosMax) {
            this(
                    certificate,
                    unit,
                    resolution,
                    capacity,
                    restBand,
                    restNanos,
                    silentNanosMax,
                    ScaleTests.NONE);
        }

        /** The same scale after these tests. */
        public Scale with(ScaleTests others) {
            return new Scale(
                    certificate,
                    unit,
                    resolution,
                    capacity,
                    restBand,
                    restNanos,
                    silentNanosMax,
                    others);
        }

        public Scale {
            aboveZero("resolution of the scale", resolution.kilograms(), "kg");
            aboveZero("capacity of the scale", capacity.kilograms(), "kg");
            aboveZero("rest band of the scale", restBand.kilograms(), "kg");
            duration("rest of the scale", restNanos, 0);
            duration("silence of the scale", silentNanosMax, 1);
        }
    }

    /**
     * The diverter.
     *
     * @param feedback how its passage is seen
     * @param travelNanosMax how long after the command it may take to pass or arrive
     */
    public record Diverter(Feedback feedback, long travelNanosMax) {
        public Diverter {
            duration("travel of the diverter", travelNanosMax, 1);
        }
    }

    /** How a diverter's passage is seen. */
    public enum Feedback {
        /** A switch at mid-travel: its stamp is the window's. */
        TRIGGER,
        /** End switches only: the window's stamp lies midway between leaving and arriving. */
        ENDS
    }

    /**
     * What flows.
     *
     * @param name what it is called
     * @param density at the temperature of the catch
     * @param densityRelativeUncertainty expanded (k = 2), as a ratio
     * @param air density of the air around the scale
     * @param basis how the density was arrived at, where it was not typed: of this very density and
     *     uncertainty
     */
    public record Liquid(
            String name,
            Density density,
            double densityRelativeUncertainty,
            Density air,
            Optional<LiquidDensity> basis) {

        /** Uncertainties are equal that differ by no more than their arithmetic. */
        private static final double SAME_RATIO = 1e-12;

        /** A liquid whose density was typed. */
        public Liquid(
                String name, Density density, double densityRelativeUncertainty, Density air) {
            this(name, density, densityRelativeUncertainty, air, Optional.empty());
        }

        /** A liquid whose density was computed or measured. */
        public Liquid(String name, LiquidDensity basis, Density air) {
            this(name, basis.density(), basis.relativeExpanded(), air, Optional.of(basis));
        }

        public Liquid {
            ratio("uncertainty of the density", densityRelativeUncertainty);
            if (basis.isPresent()
                    && (!basis.get().density().equals(density)
                            || Math.abs(basis.get().relativeExpanded() - densityRelativeUncertainty)
                                    > SAME_RATIO)) {
                throw new IllegalArgumentException(
                        "density "
                                + density.kilogramsPerCubicMetre()
                                + " kg/m3 with an uncertainty of "
                                + densityRelativeUncertainty
                                + " is not the one that its basis tells of, "
                                + basis.get().density().kilogramsPerCubicMetre()
                                + " kg/m3 with "
                                + basis.get().relativeExpanded());
            }
            if (air.kilogramsPerCubicMetre() >= density.kilogramsPerCubicMetre()) {
                throw new IllegalArgumentException(
                        "air of "
                                + air.kilogramsPerCubicMetre()
                                + " kg/m3 cannot be denser than the liquid of "
                                + density.kilogramsPerCubicMetre()
                                + " kg/m3");
            }
        }
    }

    /**
     * The truck under test.
     *
     * @param asset its number in the fleet
     * @param constant its controller's constant
     * @param control how its controller sets the flow
     * @param debounceNanos of its tapped meter line; 0 = none
     * @param speedSource where its controller takes its speed from
     */
    public record Truck(
            String asset,
            TruckConstant constant,
            ConstantAdvice.Control control,
            long debounceNanos,
            SpeedSource speedSource) {

        /** What stands in place of a truck's number where the bay's own supply is tried. */
        public static final String BAY_SUPPLY = "bay-supply";

        /** A truck whose controller takes speed pulses. */
        public Truck(
                String asset,
                TruckConstant constant,
                ConstantAdvice.Control control,
                long debounceNanos) {
            this(asset, constant, control, debounceNanos, SpeedSource.PULSES);
        }

        public Truck {
            duration("debounce of the truck's line", debounceNanos, 0);
        }

        /** The same with another constant. */
        public Truck with(TruckConstant other) {
            return new Truck(asset, other, control, debounceNanos, speedSource);
        }

        /** Whether no truck is there: the bay's own supply gives the liquid. */
        public boolean isBaySupply() {
            return asset.equals(BAY_SUPPLY);
        }
    }

    /** Where a truck's controller takes its speed from. */
    public enum SpeedSource {
        /** Pulses of a switching sensor, which the bay can play. */
        PULSES,
        /** The vehicle's data bus, on which the bay must not speak. */
        DATA_BUS,
        /** A satellite receiver. */
        SATELLITE,
        /** A coil that makes an alternating voltage of its own. */
        COIL
    }

    /**
     * What the truck is asked to put down.
     *
     * @param application direct or pre-wet
     * @param speed the speed set or played, > 0
     * @param pulsesPerMile the truck's speed constant, where the bay makes the speed pulses and
     *     counts them back
     * @param sendsFeeder whether the bay plays the conveyor's sensor, too, as long as it sends
     *     speed
     */
    public record Asked(
            Application application,
            Speed speed,
            Optional<Double> pulsesPerMile,
            boolean sendsFeeder) {

        /** What is asked of a truck whose conveyor has its own sensor, or none. */
        public Asked(Application application, Speed speed, Optional<Double> pulsesPerMile) {
            this(application, speed, pulsesPerMile, false);
        }

        public Asked {
            pulsesPerMile.ifPresent(pulses -> aboveZero("speed pulses", pulses, "pulses/mile"));
        }

        /** The same, asked at another speed. */
        public Asked at(Speed other) {
            return new Asked(application, other, pulsesPerMile, sendsFeeder);
        }

        /** Pulses/s of a truck at the asked speed, where its speed constant is given. */
        public Optional<Double> speedHertz() {
            return pulsesPerMile.map(pulses -> pulses * speed.milesPerHour() / 3600);
        }

        /** Pulses/s of a conveyor that puts down the set salt at the asked speed, where sent. */
        public Optional<Double> feederHertz() {
            if (!sendsFeeder || !(application instanceof Application.PreWet preWet)) {
                return Optional.empty();
            }
            double kilogramsPerSecond =
                    preWet.salt().kilogramsPerKilometre() / 1000 * speed.metresPerSecond();
            return preWet.saltPerFeederPulse().map(mass -> kilogramsPerSecond / mass.kilograms());
        }
    }

    /** The kind of application and its rate. */
    public sealed interface Application {
        /** Liquid straight onto the road. */
        record Direct(LiquidPerLane rate, double lanes) implements Application {
            public Direct {
                aboveZero("lanes", lanes, "lanes");
            }
        }

        /**
         * Liquid onto granular salt.
         *
         * @param rate liquid per salt
         * @param salt the salt rate set
         * @param saltReported whether the operator types the salt that the controller reports for
         *     the window
         * @param saltPerFeederPulse mass of salt one feeder pulse stands for, where those are
         *     counted
         */
        record PreWet(
                LiquidPerSalt rate,
                SaltPerDistance salt,
                boolean saltReported,
                Optional<Mass> saltPerFeederPulse)
                implements Application {
            public PreWet {
                saltPerFeederPulse.ifPresent(
                        mass -> aboveZero("salt of a feeder pulse", mass.kilograms(), "kg"));
            }
        }
    }

    /** How the truck's own figure is learned. */
    public sealed interface Reported {
        /** The resolution of the total, as a volume, >= 0. */
        Volume step();

        /** How far the total lags behind the flow, ns, >= 0. */
        long lagNanos();

        /**
         * A total typed from a display, rest to rest.
         *
         * @param step the display's step
         * @param lagNanos how long the display takes to show the last of the flow
         * @param band how far from asked a total may be before it must be typed twice, as a ratio
         */
        record Display(Volume step, long lagNanos, Ratio band) implements Reported {
            public Display {
                duration("lag of the display", lagNanos, 0);
                ratio("band of the display", band.value());
            }
        }

        /**
         * A running total from a serial line.
         *
         * @param step the total's step
         * @param lagNanos how far the total lags behind the flow
         * @param freshNanosMax the longest pause between totals across which is read
         */
        record RunningLine(Volume step, long lagNanos, long freshNanosMax) implements Reported {
            public RunningLine {
                duration("lag of the running total", lagNanos, 0);
                duration("pause between running totals", freshNanosMax, 1);
            }
        }

        /** The truck meter's own pulses, gated by the window's stamps, over its constant. */
        record MeterPulses() implements Reported {
            @Override
            public Volume step() {
                return Volume.ZERO;
            }

            @Override
            public long lagNanos() {
                return 0;
            }
        }

        /** No truck's figure is looked at: the bay tries itself. */
        record Nothing() implements Reported {
            @Override
            public Volume step() {
                return Volume.ZERO;
            }

            @Override
            public long lagNanos() {
                return 0;
            }
        }
    }

    /** Which instrument gives the measured volume. */
    public enum MeasureBy {
        /** The reference meter. */
        REFERENCE,
        /** The scale. */
        SCALE
    }

    /** Whether flow runs through the window's ends. */
    public enum Window {
        /** Flow runs before, through and after the window; the diverter cuts it out. */
        FLYING,
        /** Flow starts and stops inside the window. */
        STANDING
    }

    /** Who starts and stops the flow. */
    public enum FlowBy {
        /** Ground-speed pulses to the truck's controller in its automatic mode. */
        GROUND_SPEED,
        /** The bay's own supply. */
        SUPPLY,
        /** The operator, when asked. */
        OPERATOR
    }

    /**
     * The course of the catch.
     *
     * @param window flying or standing
     * @param flowBy who starts and stops the flow
     * @param measureBy which instrument gives the measured volume
     * @param purgeNanos how long liquid runs to the bypass first; 0 = not at all
     * @param settleSlotNanos the slot over which steadiness is judged
     * @param settleSlots how many slots are compared; 0 = steadiness is not proven
     * @param settleSpreadMax the largest spread of slot rates that counts as steady, as a ratio
     * @param settleNanosMax how long settling may take
     * @param catchNanos how long liquid is caught
     * @param silenceNanos how long no edge must come to prove that flow rests
     * @param dripNanos how long the tank drips before it is weighed
     * @param restNanosMax how long the scale may take to come to rest, and flow to stop
     * @param drainNanos how long the drain stays open afterwards; 0 = not at all
     * @param crossCheckMax how far reference and scale may disagree, as a ratio
     * @param unsteadyMax the spread of slot rates during the catch above which no constant is
     *     offered, as a ratio
     * @param rampErrorRatio how wrong the reference may be outside its range during a standing
     *     window's ramps, as a ratio
     * @param rampShareMax the largest share of pulses outside the range that a standing window may
     *     have, as a ratio
     * @param answerNanosMax how long an operator may take to answer
     */
    public record Plan(
            Window window,
            FlowBy flowBy,
            MeasureBy measureBy,
            long purgeNanos,
            long settleSlotNanos,
            int settleSlots,
            double settleSpreadMax,
            long settleNanosMax,
            long catchNanos,
            long silenceNanos,
            long dripNanos,
            long restNanosMax,
            long drainNanos,
            Ratio crossCheckMax,
            double unsteadyMax,
            double rampErrorRatio,
            double rampShareMax,
            long answerNanosMax) {
        public Plan {
            duration("purge", purgeNanos, 0);
            duration("settle slot", settleSlotNanos, 1);
            duration("time to settle", settleNanosMax, 1);
            duration("catch", catchNanos, 1);
            duration("silence", silenceNanos, 1);
            duration("drip", dripNanos, 0);
            duration("time to rest", restNanosMax, 1);
            duration("drain", drainNanos, 0);
            duration("time to answer", answerNanosMax, 1);
            if (settleSlots < 0 || settleSlots > SETTLE_SLOTS_MAX) {
                throw new IllegalArgumentException(
                        "settle slots must be from 0 to "
                                + SETTLE_SLOTS_MAX
                                + ", were "
                                + settleSlots);
            }
            ratio("spread of settled flow", settleSpreadMax);
            ratio("cross-check", crossCheckMax.value());
            ratio("spread of steady flow", unsteadyMax);
            ratio("error in the ramps", rampErrorRatio);
            ratio("share of the ramps", rampShareMax);
        }

        /** The same course, its flow set by these and cut so. */
        Plan hunting(FlowBy by, Window cut) {
            return with(cut, by, measureBy, crossCheckMax);
        }

        /**
         * The same course, otherwise started and measured.
         *
         * @param apart how far reference and scale may disagree
         */
        public Plan with(FlowBy started, MeasureBy measured, Ratio apart) {
            return with(window, started, measured, apart);
        }

        private Plan with(Window cut, FlowBy started, MeasureBy measured, Ratio apart) {
            return new Plan(
                    cut,
                    started,
                    measured,
                    purgeNanos,
                    settleSlotNanos,
                    settleSlots,
                    settleSpreadMax,
                    settleNanosMax,
                    catchNanos,
                    silenceNanos,
                    dripNanos,
                    restNanosMax,
                    drainNanos,
                    apart,
                    unsteadyMax,
                    rampErrorRatio,
                    rampShareMax,
                    answerNanosMax);
        }

        /** The same course, catching and dripping for so long. */
        public Plan lasting(long caughtNanos, long drippedNanos) {
            return lasting(purgeNanos, caughtNanos, drippedNanos, drainNanos);
        }

        /** The same course, with these times. */
        public Plan lasting(
                long purgedNanos, long caughtNanos, long drippedNanos, long drainedNanos) {
            return new Plan(
                    window,
                    flowBy,
                    measureBy,
                    purgedNanos,
                    settleSlotNanos,
                    settleSlots,
                    settleSpreadMax,
                    settleNanosMax,
                    caughtNanos,
                    silenceNanos,
                    drippedNanos,
                    restNanosMax,
                    drainedNanos,
                    crossCheckMax,
                    unsteadyMax,
                    rampErrorRatio,
                    rampShareMax,
                    answerNanosMax);
        }
    }
}
