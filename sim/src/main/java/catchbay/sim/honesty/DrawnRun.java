package catchbay.sim.honesty;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.Certificate;
import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.run.Doubts;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Reported;
import catchbay.sim.Scenario;
import catchbay.sim.SimOptions;

import java.util.List;
import java.util.Optional;

/**
 * A stand-in bay for one whole run: a case of the stand-in's own, with what it states and what is
 * wrong with it drawn anew, each error from the distribution that is stated for it. What the
 * stand-in bay has no error of is stated as nothing. Sizes are common practice, no source.
 */
final class DrawnRun {

    private static final double DAYS_OF_YEAR = 365.25;

    /**
     * A total is as old as the controller's last turn, and that comes ten times a second. A lag
     * beyond it is the same at both ends in the stand-in bay and cancels.
     */
    private static final long TOTAL_AGE_NANOS_MAX = 100_000_000L;

    /** With errors drawn without bounds, the two instruments may lie far apart. */
    private static final Ratio CROSS_CHECK = new Ratio(0.03);

    /**
     * What flows below a reference's cut-off gives no pulse, and nothing is stated for it: here it
     * is a part of what the stand-in draws.
     */
    private static final double CUT_OFF_SHARE = 0.05;

    /**
     * A total moves by whole pulses, and nothing is stated for that where its step is as small as
     * they are.
     */
    private static final double STEP_PULSES_MIN = 5;

    private final Dice truth;
    private final Scenario plain;
    private final RunSetup setup;

    private DrawnRun(RunKind kind, Dice stated, Dice truth) {
        this.truth = truth;
        plain = plain(kind, stated);
        setup = stated(plain.setup(), doubts(stated));
    }

    static Scenario of(RunKind kind, Dice stated, Dice truth) {
        DrawnRun drawn = new DrawnRun(kind, stated, truth);
        return new Scenario(drawn.plain.name(), drawn.setup, drawn.options());
    }

    /** Draws until one is of the kind. */
    private static Scenario plain(RunKind kind, Dice stated) {
        while (true) {
            Scenario scenario = Scenario.drawn(stated.generator().nextLong(Long.MAX_VALUE));
            if (RunKind.of(scenario.setup()).equals(kind)) {
                return scenario;
            }
        }
    }

    private Doubts doubts(Dice stated) {
        Mass none = new Mass(0);
        double celsius = plain.options().warmth().liquidCelsius();
        double lag = stated.oneOf(true, false) ? stated.between(0.05, 0.5) : 0;
        return new Doubts(
                new Doubts.Reference(
                        new Ratio(stated.between(0, 0.002)),
                        new Ratio(stated.between(0, 0.001)),
                        Math.round(lag * 1e9),
                        Optional.empty(),
                        Optional.empty()),
                new Doubts.Scale(
                        none,
                        none,
                        new Mass(repeatability()),
                        none,
                        none,
                        none,
                        none,
                        none,
                        new Ratio(stated.between(0, 0.001)),
                        Ratio.ZERO,
                        none,
                        Optional.of(true)),
                new Doubts.Diverter(
                        stated.between(-0.05, 0.05), stated.between(0.005, 0.03), "drawn"),
                new Doubts.Temperatures(
                        Optional.of(new Temperature(celsius + stated.between(-3, 3))),
                        Optional.of(new Temperature(celsius)),
                        Optional.empty(),
                        stated.between(0.3, 2),
                        Optional.of(stated.between(0.0002, 0.0006)),
                        Doubts.Sensors.NONE),
                new Doubts.Line(Volume.ZERO, Volume.ZERO, 0),
                new Ratio(stated.between(0.002, 0.01)),
                new Ratio(stated.between(0.002, 0.01)),
                new Doubts.Scatter(Ratio.ZERO, 9, Ratio.ZERO, 9));
    }

    /** Of the mean of the frames that come while the scale must rest. */
    private double repeatability() {
        SimOptions.Scale cell = plain.options().scale();
        double rest = plain.setup().scale().map(RunSetup.Scale::restNanos).orElse(0L) / 1e9;
        return cell.noiseKilograms() / Math.sqrt(1 + Math.floor(rest / cell.periodSeconds()));
    }

    private static RunSetup stated(RunSetup plain, Doubts doubts) {
        return new RunSetup(
                plain.bay(),
                plain.day(),
                plain.reference().map(DrawnRun::straight),
                plain.scale(),
                plain.diverter()
                        .map(diverter ->
                                new RunSetup.Diverter(
                                        feedback(plain, diverter), diverter.travelNanosMax())),
                plain.liquid(),
                plain.truck(),
                plain.asked(),
                switch (plain.reported()) {
                    case Reported.RunningLine(Volume step, long _, long fresh) ->
                            new Reported.RunningLine(
                                    coarse(step, plain.truck()), TOTAL_AGE_NANOS_MAX, fresh);
                    case Reported.Display(Volume step, long lag, Ratio band) ->
                            new Reported.Display(coarse(step, plain.truck()), lag, band);
                    case Reported.MeterPulses pulses -> pulses;
                    case Reported.Nothing nothing -> nothing;
                },
                plan(plain.plan()),
                doubts,
                plain.judgement(),
                plain.session(),
                plain.repeats());
    }

    private static Volume coarse(Volume step, RunSetup.Truck truck) {
        return truck.constant()
                .pulses()
                .map(perVolume -> new Volume(STEP_PULSES_MIN / perVolume.pulsesPerLitre()))
                .filter(least -> least.compareTo(step) > 0)
                .orElse(step);
    }

    /** The stand-in's meter does not bend between its certified flows: they lie on a line. */
    private static RunSetup.Reference straight(RunSetup.Reference plain) {
        ReferenceCurve.Point first = plain.curve().points().getFirst();
        ReferenceCurve.Point last = plain.curve().points().getLast();
        double from = first.flow().litresPerSecond();
        double range = last.flow().litresPerSecond() - from;
        double low = first.constant().pulsesPerLitre();
        double rise = last.constant().pulsesPerLitre() - low;
        List<ReferenceCurve.Point> points =
                plain.curve().points().stream()
                        .map(point ->
                                new ReferenceCurve.Point(
                                        point.flow(),
                                        new PulseConstant(
                                                low
                                                        + rise
                                                                * (point.flow().litresPerSecond()
                                                                        - from)
                                                                / range)))
                        .toList();
        return new RunSetup.Reference(
                plain.certificate(),
                new ReferenceCurve(points),
                plain.debounceNanos(),
                plain.pulsesPerSecondMax(),
                plain.leapRatio(),
                plain.evenRatioMax(),
                plain.twoChannels());
    }

    /**
     * The stand-in's stream is always cut midway between the end switches, so that where it is
     * weighed only a trigger says less than there is to know.
     */
    private static RunSetup.Feedback feedback(RunSetup plain, RunSetup.Diverter diverter) {
        return plain.plan().measureBy() == RunSetup.MeasureBy.SCALE
                ? RunSetup.Feedback.TRIGGER
                : diverter.feedback();
    }

    private static RunSetup.Plan plan(RunSetup.Plan plain) {
        return new RunSetup.Plan(
                plain.window(),
                plain.flowBy(),
                plain.measureBy(),
                plain.purgeNanos(),
                plain.settleSlotNanos(),
                plain.settleSlots(),
                plain.settleSpreadMax(),
                plain.settleNanosMax(),
                plain.catchNanos(),
                plain.silenceNanos(),
                plain.dripNanos(),
                plain.restNanosMax(),
                plain.drainNanos(),
                CROSS_CHECK,
                plain.unsteadyMax(),
                plain.rampErrorRatio(),
                plain.rampShareMax(),
                plain.answerNanosMax());
    }

    private SimOptions options() {
        SimOptions options = plain.options();
        return new SimOptions(
                options.seed(),
                truck(options.truck()),
                bay(options.bay()),
                scale(options.scale()),
                options.person(),
                warmth(options.warmth()),
                List.of());
    }

    private SimOptions.Truck truck(SimOptions.Truck t) {
        return new SimOptions.Truck(
                t.overReadingRatio(),
                t.lowFlowLossRatio(),
                t.cutOffLitresPerSecond(),
                t.shiftRatio(),
                t.pumpLitresPerSecond(),
                t.openLoopErrorRatio(),
                t.flowNoiseRatio(),
                t.deadSeconds(),
                t.lagSeconds(),
                t.speedLagSeconds(),
                t.gainPerSecond(),
                0,
                truth.between(0, 1000),
                t.lineSeconds(),
                t.nominalLitresPerSecond());
    }

    private SimOptions.Bay bay(SimOptions.Bay b) {
        Doubts doubts = setup.doubts();
        double reference =
                setup.reference()
                        .map(RunSetup.Reference::certificate)
                        .map(certificate ->
                                certified(certificate, doubts.reference().driftPerYear())
                                        + truth.even(doubts.reference().otherLiquid().value()))
                        .orElse(0.0);
        double asymmetry =
                doubts.diverter().timingErrorSeconds()
                        + truth.even(doubts.diverter().timingHalfWidthSeconds());
        return new SimOptions.Bay(
                reference,
                b.referenceShiftRatio(),
                lowFlowLoss(),
                b.referenceCutOffLitresPerSecond() * CUT_OFF_SHARE,
                doubts.reference().dampingNanos() / 1e9,
                truth.normal(setup.liquid().densityRelativeUncertainty() / Certificate.COVERAGE),
                b.diverterDelaySeconds(),
                // The trigger must lie on the flap's way.
                Math.max(b.diverterTravelSeconds(), 2 * Math.abs(asymmetry)),
                asymmetry,
                b.chuteSeconds(),
                b.drainLitresPerSecond(),
                b.floatLitres());
    }

    /**
     * What it loses grows evenly from its lowest certified flow down, over which a stopping flow
     * falls: at the end it is twice the mean, of which the stated error speaks.
     */
    private double lowFlowLoss() {
        return truth.even(2 * setup.plan().rampErrorRatio());
    }

    /**
     * The stand-in's liquid expands as stated; here it is off from that by up to a tenth, for which
     * the difference of temperatures stands.
     */
    private SimOptions.Warmth warmth(SimOptions.Warmth w) {
        Doubts.Temperatures known = setup.doubts().temperatures();
        double stated = known.truckMeter().orElseThrow().minus(known.reference().orElseThrow());
        double over = stated + truth.even(known.halfWidthKelvin());
        return new SimOptions.Warmth(
                w.liquidCelsius(), over * (1 + truth.even(0.1)), w.roomCelsius(), w.noiseKelvin());
    }

    /** How far off an instrument is by its certificate and by what it has drifted since. */
    private double certified(Certificate certificate, Ratio driftPerYear) {
        double years = (setup.day().toEpochDay() - certificate.date().toEpochDay()) / DAYS_OF_YEAR;
        return truth.normal(certificate.relativeExpandedUncertainty() / Certificate.COVERAGE)
                + truth.even(driftPerYear.value() * years);
    }

    private SimOptions.Scale scale(SimOptions.Scale s) {
        if (setup.scale().isEmpty()) {
            return s;
        }
        Certificate certificate = setup.scale().get().certificate();
        return new SimOptions.Scale(
                certified(certificate, setup.doubts().scale().driftPerYear()) + lift(),
                s.noiseKilograms(),
                s.jetKilograms(),
                s.emptyKilograms(),
                s.lagSeconds(),
                s.periodSeconds(),
                s.hoseKilograms());
    }

    /**
     * What air that is denser than stated does to the reading, relative: the stand-in's air is the
     * stated one. The budget takes it as known to 5 %.
     */
    private double lift() {
        Density air = setup.liquid().air();
        Density drawn = new Density(air.kilogramsPerCubicMetre() * (1 + truth.even(0.05)));
        Density liquid = setup.liquid().density();
        Mass mass = new Mass(1);
        return Buoyancy.reading(mass, liquid, drawn).kilograms()
                        / Buoyancy.reading(mass, liquid, air).kilograms()
                - 1;
    }
}
