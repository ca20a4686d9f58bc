package catchbay.app;

import catchbay.metrology.StaticLeak;
import catchbay.metrology.WeightCheck.Answer;
import catchbay.port.PortKind;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.VolumeUnit;
import catchbay.record.DocumentException;
import catchbay.record.SelfTestRules;
import catchbay.record.SelfTestText;
import catchbay.record.SelfTestText.Figure;
import catchbay.record.SelfTestText.Head;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;
import catchbay.run.SweepTask;
import catchbay.signal.PulseLine;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** Watches a tank, and counts the reference meter, with everything shut. */
final class LeakWatch {

    /** Liquid settles, and drips fall, for so long before it is watched. Common practice. */
    private static final long SETTLE_NANOS = 30_000_000_000L;

    /** Somebody who pours is asked for so much more than is missing. Common practice. */
    private static final double POURED_OVER = 1.1;

    private final SelfTestRules rules;

    LeakWatch(SelfTestRules rules) {
        this.rules = rules;
    }

    /** Refuses a bay that cannot be watched so. */
    void refuseUnfit(String settings, RunSetup setup) {
        if (setup.scale().isEmpty()) {
            throw new DocumentException(
                    settings
                            + ": a leak is found by weighing, and no scale is described; add the"
                            + " section [scale]");
        }
        RunSetup.Scale scale = setup.scale().get();
        Mass least = rules.leak().loadLeast(scale);
        if (least.kilograms() > scale.capacity().kilograms()) {
            MassUnit unit = scale.unit();
            throw new DocumentException(
                    String.format(
                            Locale.ROOT,
                            "%s: self_tests.leak_load_least of %.3f %s is more than the scale's"
                                    + " capacity of %.3f %s; set it lower",
                            settings,
                            least.in(unit),
                            unit.symbol(),
                            scale.capacity().in(unit),
                            unit.symbol()));
        }
    }

    /** Watches, once a person has made sure of the cautions. */
    SelfTesting.Result.Found found(TestCatches catches, OpenBay bay, Head head)
            throws TestCatches.Ended, IOException {
        RunSetup setup = bay.setup();
        catches.confirm(Cautions.ofLeakWatch(), setup);
        BayWatch watch = new BayWatch(catches.ports(), bay.supervisor(), Set.of(), Long.MAX_VALUE);
        watch.doing("watching for leaks");
        try {
            bay.ports().makeSafe();
            fill(catches, watch, setup);
            watch.begin();
            watch.pass(rules.leak().watchNanos());
        } catch (BayWatch.Ended early) {
            throw new TestCatches.Ended(early.getMessage());
        } finally {
            bay.ports().makeSafe();
        }
        refuseFailed(watch);
        return result(watch, setup, head, catches.confirmedBy());
    }

    /** An empty tank passes every watch: too little in it is poured once, or there is no result. */
    private void fill(TestCatches catches, BayWatch watch, RunSetup setup)
            throws TestCatches.Ended, BayWatch.Ended {
        RunSetup.Scale scale = setup.scale().orElseThrow();
        Mass least = rules.leak().loadLeast(scale);
        Mass shown = settled(watch, scale);
        if (shown.kilograms() >= least.kilograms()) {
            return;
        }
        Mass missing = new Mass(least.minus(shown).kilograms() * POURED_OVER);
        catches.asked(
                new SweepTask.FillTank(
                        setup.liquid().density().volumeOf(missing), least, scale.unit()),
                setup);
        shown = settled(watch, scale);
        if (shown.kilograms() < least.kilograms()) {
            MassUnit unit = scale.unit();
            throw new TestCatches.Ended(
                    String.format(
                            Locale.ROOT,
                            "The scale shows %.3f %s, and a leak is looked for with %.3f %s at"
                                    + " least: pour liquid into the catch tank and begin again, or"
                                    + " set self_tests.leak_load_least_kg lower.",
                            shown.in(unit),
                            unit.symbol(),
                            least.in(unit),
                            unit.symbol()));
        }
    }

    /** What the scale shows once liquid has settled. */
    private static Mass settled(BayWatch watch, RunSetup.Scale scale)
            throws TestCatches.Ended, BayWatch.Ended {
        watch.pass(SETTLE_NANOS);
        watch.begin();
        watch.pass(scale.restNanos() + scale.silentNanosMax());
        refuseFailed(watch);
        List<StaticLeak.Reading> readings = readings(watch, scale);
        return new Mass(
                readings.stream()
                        .mapToDouble(one -> one.mass().kilograms())
                        .average()
                        .orElseThrow(() ->
                                new TestCatches.Ended(
                                        "The scale sent no weight in "
                                                + scale.unit().symbol()
                                                + ". Check its indicator, line and unit.")));
    }

    private static void refuseFailed(BayWatch watch) throws TestCatches.Ended {
        for (PortKind kind : List.of(PortKind.SCALE, PortKind.PULSES, PortKind.OUTPUTS)) {
            if (watch.failure(kind.key()).isPresent()) {
                throw new TestCatches.Ended(watch.failure(kind.key()).get());
            }
        }
    }

    private static List<StaticLeak.Reading> readings(BayWatch watch, RunSetup.Scale scale) {
        return watch.weights().stream()
                .filter(one -> one.weight().unit() == scale.unit())
                .map(one -> new StaticLeak.Reading(one.atNanos() / 1e9, one.weight().mass()))
                .toList();
    }

    private SelfTesting.Result.Found result(
            BayWatch watch, RunSetup setup, Head head, Optional<String> confirmedBy)
            throws TestCatches.Ended {
        RunSetup.Scale scale = setup.scale().orElseThrow();
        StaticLeak leak;
        try {
            leak = StaticLeak.of(readings(watch, scale), scale.resolution(), limit(setup));
        } catch (IllegalArgumentException tooFew) {
            throw new TestCatches.Ended(
                    "The scale sent too few weights: "
                            + tooFew.getMessage()
                            + ". Check its indicator, line and unit.");
        }
        List<Figure> figures = new ArrayList<>();
        figures.add(
                Figure.of(
                        "tank, everything shut",
                        Optional.of(scale.certificate().serial()),
                        Optional.empty(),
                        SelfTestText.Unit.KG_PER_HOUR,
                        leak.kilogramsPerHour(),
                        leak.limit(),
                        leak.answer()));
        long counted = watch.edges(PulseLine.REFERENCE).edges();
        setup.reference()
                .ifPresent(meter ->
                        figures.add(
                                new Figure(
                                        "reference meter, zero count",
                                        Optional.of(meter.certificate().serial()),
                                        Optional.empty(),
                                        SelfTestText.Unit.PULSES,
                                        counted,
                                        0,
                                        0,
                                        counted == 0 ? Answer.PASSES : Answer.FAILS)));
        String sentence = sentence(leak) + (setup.reference().isPresent() ? counted(counted) : "");
        SelfTestText.Done done =
                new SelfTestText.Done(
                        head,
                        Optional.of(new SelfTestText.Load(leak.begun(), leak.ended())),
                        figures,
                        confirmedBy,
                        sentence);
        return new SelfTesting.Result.Found(done, SelfTestText.of(done));
    }

    /** In kg/h. */
    private double limit(RunSetup setup) {
        return rules.leak().share()
                * SetupCheck.askedFlow(setup.asked()).perMinute(VolumeUnit.LITRE)
                * 60
                / 1000
                * setup.liquid().density().kilogramsPerCubicMetre();
    }

    private static String sentence(StaticLeak leak) {
        double rate = leak.kilogramsPerHour().value();
        return switch (leak.answer()) {
            case PASSES -> "The tank keeps what is in it.";
            case FAILS ->
                    rate < 0
                            ? String.format(
                                    Locale.ROOT,
                                    "The tank loses %.3f kg/h: its drain or a fitting leaks; clean"
                                            + " the drain's seat, and test again before a catch.",
                                    -rate)
                            : String.format(
                                    Locale.ROOT,
                                    "The tank gains %.3f kg/h: supply or diverter leak into it, or"
                                            + " the chute still drips; look at both, and test"
                                            + " again before a catch.",
                                    rate);
            case CANNOT_TELL ->
                    "The scale is too coarse, or too restless, to tell; watch longer"
                            + " (self_tests.leak_watch_seconds).";
        };
    }

    private static String counted(long pulses) {
        return pulses == 0
                ? " The reference meter counts nothing."
                : " The reference meter counts "
                        + pulses
                        + " pulses with nothing flowing: liquid passes the supply's valve to the"
                        + " bypass, or its wire picks up noise.";
    }
}
