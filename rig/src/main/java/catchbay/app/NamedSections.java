package catchbay.app;

import catchbay.record.DocumentException;
import catchbay.record.Fields;

import com.fasterxml.jackson.databind.node.ObjectNode;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * One kind of instrument in the settings: a bay has one of it in a section of its own, as in {@code
 * [scale]}, or several with names, as in {@code [scales.NAME]}, of which an option chooses one.
 */
final class NamedSections {

    private final TomlFile file;
    private final String one;
    private final String several;
    private Optional<String> given = Optional.empty();

    /**
     * @param one the section of the only one; its option is called so, too
     * @param several the section that holds those with names
     */
    NamedSections(TomlFile file, String one, String several) {
        this.file = file;
        this.one = one;
        this.several = several;
    }

    /** The names, in the order of the file; empty where it has no sections with names. */
    List<String> names() {
        List<String> names = new ArrayList<>();
        if (file.document().get(several) instanceof ObjectNode sections) {
            sections.fieldNames().forEachRemaining(names::add);
        }
        return names;
    }

    /** Chooses one by its name. */
    void choose(Optional<String> name) {
        given = name;
    }

    /**
     * The chosen one, or the only one; empty where there is a choice that was not made, or nothing
     * to choose.
     *
     * @throws DocumentException when the name that was given is of none, or the file has both forms
     */
    Optional<String> chosen() {
        List<String> names = names();
        if (names.isEmpty()) {
            if (file.document().has(several)) {
                throw file.fields()
                        .refused(
                                several,
                                "give each its own section, ["
                                        + several
                                        + ".NAME], or take this out");
            }
            if (given.isPresent()) {
                throw new DocumentException(
                        option()
                                + file.name()
                                + " has no sections ["
                                + several
                                + ".NAME] to choose from; leave it out");
            }
            return Optional.empty();
        }
        if (file.document().has(one)) {
            throw file.fields()
                    .refused(
                            one,
                            "a bay has one "
                                    + one
                                    + " here or several under "
                                    + several
                                    + "; keep one");
        }
        if (given.isPresent() && !names.contains(given.get())) {
            throw refused("'" + given.get() + "' is none of");
        }
        return names.size() == 1 ? Optional.of(names.getFirst()) : given;
    }

    /** The section of that name, a copy. */
    ObjectNode section(String name) {
        if (file.document().get(several).get(name) instanceof ObjectNode section) {
            return section.deepCopy();
        }
        throw file.fields()
                .section(several)
                .refused(name, "it must be a section with keys of its own");
    }

    /** The refusal of several of which one must be chosen. */
    DocumentException undecided() {
        return refused("choose one of");
    }

    private DocumentException refused(String what) {
        return new DocumentException(
                option()
                        + what
                        + " the "
                        + several
                        + " in "
                        + file.name()
                        + ": "
                        + String.join(", ", names()));
    }

    private String option() {
        return Fields.Places.OPTION + "--" + one + ": ";
    }
}
