package catchbay.app;

import catchbay.metrology.StartStopError;
import catchbay.metrology.WeightCheck.Answer;
import catchbay.record.BayTest;
import catchbay.record.CheckupText;
import catchbay.record.ScaleTestText;
import catchbay.record.SelfTestRules;
import catchbay.record.SelfTestText;
import catchbay.record.TraceLine;
import catchbay.run.Doubts;
import catchbay.run.RunSetup;
import catchbay.store.DataFolder;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What was tried of a bay, as its catches must know it. */
final class KnownTests {

    private final KnownScaleTests scale;
    private final List<SelfTestText.Done> newestFirst;
    private final DueTests due;

    private KnownTests(KnownScaleTests scale, List<SelfTestText.Done> newestFirst, DueTests due) {
        this.scale = scale;
        this.newestFirst = newestFirst;
        this.due = due;
    }

    /**
     * The tests of a bay's data folder.
     *
     * @param origin only those of this origin count: a stand-in says nothing of a real bay
     */
    static KnownTests of(Settings settings, TraceLine.Origin origin) throws IOException {
        Path data = settings.data();
        List<ScaleTestText.Done> scaleTests =
                DataFolder.scaleTests(data).results(ScaleTestText::read).stream()
                        .filter(done -> done.head().origin() == origin)
                        .toList();
        List<SelfTestText.Done> selfTests =
                DataFolder.selfTests(data).results(SelfTestText::read).stream()
                        .filter(done -> done.head().origin() == origin)
                        .toList();
        List<CheckupText.Done> checkups =
                DataFolder.checkups(data).results(CheckupText::read).stream()
                        .filter(done -> done.head().origin() == origin)
                        .toList();
        SelfTestRules rules = settings.selfTests(settings.anyMeter(settings.anyTruck()).plan());
        return new KnownTests(
                new KnownScaleTests(scaleTests),
                selfTests,
                DueTests.of(rules, settings.hasCheckWeights(), checkups, scaleTests, selfTests));
    }

    /** Which tests are due. */
    DueTests due() {
        return due;
    }

    /** The setup with what is known of its bay on its day. */
    RunSetup applied(RunSetup setup) {
        RunSetup scaled = scale.applied(setup);
        RunSetup timed = timing(scaled).map(scaled::with).orElse(scaled);
        return timed.with(timed.session().with(due.behind(timed)));
    }

    /** How a diverter whose passage is seen so is called in the files of its tests. */
    static String diverter(RunSetup.Diverter diverter) {
        return "diverter, " + diverter.feedback().name().toLowerCase(Locale.ROOT);
    }

    /**
     * The measured error in place of the settings': of the newest test that tells something. One
     * that failed tells of a fault, which is mended and not corrected for.
     */
    private Optional<Doubts.Diverter> timing(RunSetup setup) {
        if (setup.diverter().isEmpty()) {
            return Optional.empty();
        }
        String instrument = diverter(setup.diverter().get());
        return newestFirst.stream()
                .filter(done -> done.head().kind() == BayTest.TIMING)
                .filter(done -> done.head().bay().equals(setup.bay()))
                .filter(done -> !done.head().day().isAfter(setup.day()))
                .filter(done -> done.answer() != Answer.CANNOT_TELL)
                .filter(done -> done.figures().getFirst().of().equals(instrument))
                .findFirst()
                .filter(done -> done.answer() == Answer.PASSES)
                .map(KnownTests::timing);
    }

    private static Doubts.Diverter timing(SelfTestText.Done done) {
        SelfTestText.Figure figure = done.figures().getFirst();
        return new Doubts.Diverter(
                figure.value(),
                StartStopError.halfWidthSeconds(figure.expanded()),
                "measured on " + done.head().day() + " (" + done.head().name() + ")");
    }
}
