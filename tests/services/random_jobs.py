"""Any job there can be, for the property tests."""

from __future__ import annotations

from types import MappingProxyType

from hypothesis import strategies as st

from xref_app.core.economics.engine_state import Compression, EngineState
from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.core.sentence import Sentence
from xref_app.services.fix_or_replace import Entries, Typed
from xref_app.services.job_told import Told, ToldNeed, ToldSize
from xref_app.services.kept_job import KeptJob
from xref_app.services.pump_answers import Answer, PumpAnswers
from xref_app.services.used_fact import UsedFact

texts = st.text(max_size=12)
counts = st.integers(0, 10**9)


def tuples(of: st.SearchStrategy[object]) -> st.SearchStrategy[tuple[object, ...]]:
    return st.lists(of, max_size=4).map(tuple)


facts = st.builds(
    UsedFact,
    kind=st.sampled_from(("pump", "machine")),
    entry_id=texts,
    label=texts,
    is_guessed=st.booleans(),
    is_build=st.booleans(),
    sisters=tuples(texts),
    builds=tuples(texts),
)
sentences = st.sampled_from(
    (Sentence("typed"), Sentence("as last time"), Sentence("{who} said {what}", {"who": "Ä\0", "what": "{x}"}))
)
entries = st.builds(
    Entries,
    typed=st.dictionaries(texts, st.builds(Typed, texts, st.dates(), sentences), max_size=3),
    confirmed=st.dictionaries(texts, st.dates(), max_size=3),
    ticked=st.frozensets(texts, max_size=3),
    used_place=counts,
    engine=st.builds(EngineState, st.booleans(), st.sampled_from(Compression), texts, texts),
)
tellings = st.builds(
    Told,
    catalog_number=st.none() | counts,
    verdict=st.none() | st.sampled_from(Verdict),
    checks=tuples(st.tuples(texts, st.sampled_from([one.word for one in Outcome]))),
    needs=tuples(st.builds(ToldNeed, counts, texts)),
    sizes=tuples(st.builds(ToldSize, texts, texts, texts, texts)),
)
answers = st.dictionaries(texts, st.builds(Answer, texts, st.booleans()), max_size=4).map(
    lambda by_id: PumpAnswers(MappingProxyType(by_id))
)
jobs = st.builds(
    KeptJob,
    job_id=texts,
    reference=texts,
    title=texts,
    facts=tuples(facts),
    chosen_id=texts,
    chosen_number=texts,
    answers=answers,
    figures=entries,
    outcome_ids=tuples(texts),
    told=tellings,
    changed_at=texts,
)
