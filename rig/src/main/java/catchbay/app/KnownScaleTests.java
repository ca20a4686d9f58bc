package catchbay.app;

import catchbay.metrology.Certificate;
import catchbay.metrology.WeightCheck;
import catchbay.record.ScaleTestText.Done;
import catchbay.record.ScaleTestText.Kind;
import catchbay.run.RunSetup;
import catchbay.run.ScaleTests;

import java.util.List;
import java.util.Optional;

/** What was tried of a bay's scales, as its catches must know it. */
final class KnownScaleTests {

    private final List<Done> newestFirst;

    /** By the tests that count. */
    KnownScaleTests(List<Done> newestFirst) {
        this.newestFirst = newestFirst;
    }

    /** The setup with what is known of its scale on its day. */
    RunSetup applied(RunSetup setup) {
        if (setup.scale().isEmpty()) {
            return setup;
        }
        RunSetup.Scale scale = setup.scale().get();
        Optional<Done> weights =
                newest(setup, Kind.WEIGHTS)
                        .filter(test -> !passed(test) || !outdated(test, scale.certificate()));
        Optional<Done> shunt = newest(setup, Kind.SHUNT);
        ScaleTests tests =
                new ScaleTests(
                        scale.tests().withinDays(),
                        weights.map(test ->
                                new ScaleTests.Weights(
                                        test.head().name(),
                                        test.head().day(),
                                        passed(test),
                                        test.figure())),
                        shunt.map(test ->
                                new ScaleTests.Shunt(
                                        test.head().name(), test.head().day(), passed(test))));
        return setup.with(
                scale.with(tests),
                shunt.map(test -> setup.doubts().scale().withHose(test.figure()))
                        .orElse(setup.doubts().scale()));
    }

    private static boolean passed(Done test) {
        return test.answer() == WeightCheck.Answer.PASSES;
    }

    /** What a scale showed before it was calibrated, and perhaps moved, says nothing of it now. */
    private static boolean outdated(Done test, Certificate certificate) {
        return test.head().day().isBefore(certificate.date());
    }

    /** The newest that says something; one that could not tell leaves what was known before. */
    private Optional<Done> newest(RunSetup setup, Kind kind) {
        String serial = setup.scale().orElseThrow().certificate().serial();
        return newestFirst.stream()
                .filter(test -> test.head().kind() == kind)
                .filter(test -> test.answer() != WeightCheck.Answer.CANNOT_TELL)
                .filter(test -> test.head().scale().equals(serial))
                .filter(test -> !test.head().day().isAfter(setup.day()))
                .findFirst();
    }
}
