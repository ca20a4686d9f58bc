package catchbay.app;

import catchbay.metrology.StaticLeak;
import catchbay.metrology.WeightCheck.Answer;
import catchbay.port.PortKind;
import catchbay.quantity.VolumeUnit;
import catchbay.record.SelfTestRules;
import catchbay.record.SelfTestText;
import catchbay.record.SelfTestText.Figure;
import catchbay.record.SelfTestText.Head;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;
import catchbay.signal.PulseLine;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** Watches a tank, and counts the reference meter, with everything shut. */
final class LeakWatch {

    /** Liquid settles, and drips fall, for so long before it is watched. Common practice. */
    private static final long SETTLE_NANOS = 30_000_000_000L;

    private static final List<String> CAUTIONS =
            List.of(
                    "The shop's own safety rules come before this list.",
                    "There is liquid in the catch tank, about as much as in a catch.",
                    "The bay's supply and the truck's pump are off, as before a catch.",
                    "Diverter, drain and supply are about to be shut: hands, tools and hoses are"
                            + " clear of them.",
                    "Nobody touches tank, hoses and scale until the watch is over.");

    private final SelfTestRules rules;

    LeakWatch(SelfTestRules rules) {
        this.rules = rules;
    }

    /** Watches, once a person has made sure of the cautions. */
    SelfTesting.Result.Found found(TestCatches catches, OpenBay bay, Head head)
            throws TestCatches.Ended {
        RunSetup setup = bay.setup();
        catches.confirm(CAUTIONS, setup);
        BayWatch watch = new BayWatch(catches.ports(), bay.supervisor(), Set.of(), Long.MAX_VALUE);
        watch.doing("watching for leaks");
        try {
            bay.ports().makeSafe();
            watch.pass(SETTLE_NANOS);
            watch.begin();
            watch.pass(rules.leak().watchNanos());
        } catch (BayWatch.Ended early) {
            throw new TestCatches.Ended(early.getMessage());
        } finally {
            bay.ports().makeSafe();
        }
        for (PortKind kind : List.of(PortKind.SCALE, PortKind.PULSES, PortKind.OUTPUTS)) {
            if (watch.failure(kind.key()).isPresent()) {
                throw new TestCatches.Ended(watch.failure(kind.key()).get());
            }
        }
        return result(watch, setup, head, catches.confirmedBy());
    }

    private SelfTesting.Result.Found result(
            BayWatch watch, RunSetup setup, Head head, Optional<String> confirmedBy)
            throws TestCatches.Ended {
        RunSetup.Scale scale = setup.scale().orElseThrow();
        List<StaticLeak.Reading> readings =
                watch.weights().stream()
                        .filter(one -> one.weight().unit() == scale.unit())
                        .map(one ->
                                new StaticLeak.Reading(one.atNanos() / 1e9, one.weight().mass()))
                        .toList();
        StaticLeak leak;
        try {
            leak = StaticLeak.of(readings, scale.resolution(), limit(setup));
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
        SelfTestText.Done done = new SelfTestText.Done(head, figures, confirmedBy, sentence);
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
