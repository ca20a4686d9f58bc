package catchbay.app;

import catchbay.metrology.Comparison;
import catchbay.metrology.InstrumentCheck;
import catchbay.metrology.WeightCheck.Answer;
import catchbay.plan.Ways;
import catchbay.port.PortException;
import catchbay.quantity.FlowRate;
import catchbay.record.DocumentException;
import catchbay.record.SelfTestRules;
import catchbay.record.SelfTestText;
import catchbay.record.SelfTestText.Done;
import catchbay.record.SelfTestText.Figure;
import catchbay.record.SelfTestText.Head;
import catchbay.run.CatchResult;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;
import catchbay.store.StoreException;

import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Holds the reference meters that are certified at a flow against the scale, and two of them
 * against each other.
 */
final class MeterCatches {

    private final SelfTestRules rules;

    MeterCatches(SelfTestRules rules) {
        this.rules = rules;
    }

    /** The ways by the scale whose meter is certified at the flow. */
    static List<RunSetup> certified(Ways ways) {
        FlowRate flow = SetupCheck.askedFlow(ways.usual().asked());
        // Of a meter there is a way by itself and one by the scale, which are one here.
        Map<String, RunSetup> bySerial = new LinkedHashMap<>();
        ways.ways().stream()
                .map(Ways.Way::setup)
                .filter(setup -> setup.plan().measureBy() == RunSetup.MeasureBy.SCALE)
                .filter(setup ->
                        setup.reference()
                                .map(RunSetup.Reference::curve)
                                .filter(curve ->
                                        flow.compareTo(curve.lowest()) >= 0
                                                && flow.compareTo(curve.highest()) <= 0)
                                .isPresent())
                .forEach(setup -> bySerial.putIfAbsent(serial(setup), setup));
        return List.copyOf(bySerial.values());
    }

    /** Refuses a bay that has nothing to compare at this flow. */
    static void refuseUnfit(String settings, Ways ways) {
        List<RunSetup> certified = certified(ways);
        if (certified.isEmpty()) {
            throw new DocumentException(
                    settings
                            + ": a scale and a reference meter that is certified at the flow are"
                            + " needed to compare; choose the flow with --flow");
        }
        for (RunSetup setup : certified) {
            List<String> problems = SetupCheck.problems(setup);
            if (!problems.isEmpty()) {
                throw new DocumentException(settings + ": " + SetupCheck.sentences(problems));
            }
        }
    }

    /** Catches with each meter in turn. */
    SelfTesting.Result.Found found(TestCatches catches, OpenBay bay, Head head)
            throws TestCatches.Ended, PortException, StoreException, IOException {
        List<RunSetup> meters = certified(bay.ways());
        catches.confirm(meters.getFirst());
        List<InstrumentCheck> checks = new ArrayList<>();
        List<Figure> figures = new ArrayList<>();
        for (RunSetup meter : meters) {
            InstrumentCheck check = caught(catches, meter);
            checks.add(check);
            figures.add(
                    figure(
                            "meter against scale",
                            serial(meter),
                            meter.scale().orElseThrow().certificate().serial(),
                            check));
        }
        for (int i = 1; i < meters.size(); i++) {
            figures.add(
                    figure(
                            "meter against meter",
                            serial(meters.getFirst()),
                            serial(meters.get(i)),
                            checks.getFirst().against(checks.get(i))));
        }
        Done found = new Done(head, figures, catches.confirmedBy(), "");
        Done done = new Done(head, figures, catches.confirmedBy(), sentence(found.answer()));
        return new SelfTesting.Result.Found(done, SelfTestText.of(done));
    }

    private static String serial(RunSetup meter) {
        return meter.reference().orElseThrow().certificate().serial();
    }

    private InstrumentCheck caught(TestCatches catches, RunSetup meter)
            throws TestCatches.Ended, PortException, StoreException, IOException {
        List<Comparison> comparisons = new ArrayList<>();
        for (int i = 1; i <= rules.compare().catches(); i++) {
            CatchResult result = catches.caught("meter " + serial(meter) + ", " + i, meter, true);
            comparisons.add(result.comparison());
        }
        return InstrumentCheck.of(meter.day(), comparisons, rules.compare().limit().value());
    }

    private static Figure figure(String of, String serial, String against, InstrumentCheck check) {
        return new Figure(
                of,
                Optional.of(serial),
                Optional.of(against),
                SelfTestText.Unit.PERCENT,
                check.difference().value() * 100,
                check.difference().expanded() * 100,
                check.limit() * 100,
                check.answer());
    }

    private static String sentence(Answer answer) {
        return switch (answer) {
            case PASSES -> "The instruments agree within their limit.";
            case FAILS ->
                    "Instruments differ by more than their limit. Check the scale with weights"
                            + " first, then the density and the timing; a meter that two"
                            + " instruments contradict has drifted, and goes to its laboratory.";
            case CANNOT_TELL ->
                    "The instruments are not known well enough to tell whether they agree within"
                            + " their limit; make more or longer catches, or widen"
                            + " self_tests.compare_limit_percent.";
        };
    }
}
