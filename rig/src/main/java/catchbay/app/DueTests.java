package catchbay.app;

import catchbay.metrology.WeightCheck.Answer;
import catchbay.record.BayTest;
import catchbay.record.CheckupText;
import catchbay.record.ScaleTestText;
import catchbay.record.SelfTestRules;
import catchbay.record.SelfTestText;
import catchbay.run.RunSetup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Which tests of a bay are due, by its schedule and by what has been done. */
final class DueTests {

    /**
     * A test that came to a result.
     *
     * @param serial of the scale that was tried, where one was
     */
    record Last(
            BayTest test,
            String name,
            String bay,
            Optional<String> serial,
            LocalDate day,
            Answer answer) {}

    /**
     * How it stands with one test.
     *
     * @param everyDays 0 = it is not scheduled
     * @param last the latest that told something
     */
    record Entry(BayTest test, int everyDays, Optional<Last> last) {

        /** The last day on which it need not be done; empty where it is not scheduled. */
        Optional<LocalDate> dueOn() {
            return everyDays == 0
                    ? Optional.empty()
                    : last.map(done -> done.day.plusDays(everyDays));
        }

        /** What is behind, as a sentence's part; empty where nothing is. */
        Optional<String> behind(LocalDate today) {
            boolean ofItself =
                    switch (test) {
                        case TIMING, LEAK, COMPARE -> true;
                        case CHECKUP, WEIGHTS, SHUNT -> false;
                    };
            Optional<Last> failed = last.filter(done -> done.answer == Answer.FAILS);
            if (failed.isPresent() && (everyDays > 0 || ofItself)) {
                return Optional.of(
                        test.key()
                                + " failed on "
                                + failed.get().day
                                + " ("
                                + failed.get().name
                                + ")");
            }
            if (everyDays == 0) {
                return Optional.empty();
            }
            if (last.isEmpty()) {
                return Optional.of(test.key() + " was never done");
            }
            return dueOn().filter(today::isAfter)
                    .map(due ->
                            test.key()
                                    + " was last done on "
                                    + last.get().day
                                    + " and due until "
                                    + due);
        }
    }

    private static final String NO_SCALE = "no scale is described";

    private final SelfTestRules rules;
    private final boolean checkWeights;
    private final List<Last> newestFirst;

    private DueTests(SelfTestRules rules, boolean checkWeights, List<Last> newestFirst) {
        this.rules = rules;
        this.checkWeights = checkWeights;
        this.newestFirst = newestFirst;
    }

    /**
     * By what was done in a bay.
     *
     * @param checkWeights whether any are listed
     * @param checkups newest first, as the tests of scale and bay
     */
    static DueTests of(
            SelfTestRules rules,
            boolean checkWeights,
            List<CheckupText.Done> checkups,
            List<ScaleTestText.Done> scaleTests,
            List<SelfTestText.Done> selfTests) {
        List<Last> all = new ArrayList<>();
        checkups.stream().filter(done -> done.ended().isEmpty()).forEach(done -> all.add(of(done)));
        scaleTests.forEach(done -> all.add(of(done)));
        selfTests.forEach(done -> all.add(of(done)));
        all.removeIf(done -> done.answer == Answer.CANNOT_TELL);
        return new DueTests(rules, checkWeights, all);
    }

    private static Last of(CheckupText.Done done) {
        CheckupText.Head head = done.head();
        return new Last(
                BayTest.CHECKUP,
                head.name(),
                head.bay(),
                Optional.empty(),
                head.day(),
                done.passed() ? Answer.PASSES : Answer.FAILS);
    }

    private static Last of(ScaleTestText.Done done) {
        ScaleTestText.Head head = done.head();
        return new Last(
                switch (head.kind()) {
                    case WEIGHTS -> BayTest.WEIGHTS;
                    case SHUNT -> BayTest.SHUNT;
                },
                head.name(),
                head.bay(),
                Optional.of(head.scale()),
                head.day(),
                done.answer());
    }

    private static Last of(SelfTestText.Done done) {
        SelfTestText.Head head = done.head();
        return new Last(
                head.kind(), head.name(), head.bay(), Optional.empty(), head.day(), done.answer());
    }

    /** How it stands with each test that this bay can do, on the day of its setup. */
    List<Entry> entries(RunSetup setup) {
        return Arrays.stream(BayTest.values())
                .filter(test -> lacking(test, setup).isEmpty())
                .map(test -> new Entry(test, rules.days().get(test), last(test, setup)))
                .toList();
    }

    /** What is behind on the day of a setup, each as a sentence's part. */
    List<String> behind(RunSetup setup) {
        return entries(setup).stream()
                .map(entry -> entry.behind(setup.day()))
                .flatMap(Optional::stream)
                .toList();
    }

    /** What this bay cannot do, and what it lacks for it. */
    Map<BayTest, String> lacking(RunSetup setup) {
        Map<BayTest, String> lacking = new EnumMap<>(BayTest.class);
        for (BayTest test : BayTest.values()) {
            lacking(test, setup).ifPresent(what -> lacking.put(test, what));
        }
        return lacking;
    }

    private Optional<String> lacking(BayTest test, RunSetup setup) {
        boolean scale = setup.scale().isPresent();
        return switch (test) {
            case CHECKUP -> Optional.empty();
            case SHUNT, LEAK -> unless(scale, NO_SCALE);
            case WEIGHTS ->
                    unless(scale, NO_SCALE)
                            .or(() ->
                                    unless(
                                            checkWeights,
                                            "no check weights are listed in scale_test.weights"));
            case TIMING ->
                    unless(scale, NO_SCALE)
                            .or(() ->
                                    unless(
                                            setup.plan().window() == RunSetup.Window.FLYING,
                                            "its catches have no flying window"));
            case COMPARE ->
                    unless(scale, NO_SCALE)
                            .or(() ->
                                    unless(
                                            setup.reference().isPresent(),
                                            "no reference meter is described"));
        };
    }

    private static Optional<String> unless(boolean there, String lacking) {
        return there ? Optional.empty() : Optional.of(lacking);
    }

    private Optional<Last> last(BayTest test, RunSetup setup) {
        Optional<String> scale = setup.scale().map(known -> known.certificate().serial());
        return newestFirst.stream()
                .filter(done -> done.test == test && done.bay.equals(setup.bay()))
                .filter(done -> done.serial.isEmpty() || done.serial.equals(scale))
                .filter(done -> !done.day.isAfter(setup.day()))
                .findFirst();
    }
}
