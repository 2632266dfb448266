/** An input of the budget by its stored label, which says where the value is from in the method's own terms. */
export const inputWords = (label: string): string => label.replace('(prior)', '(typical value)');
